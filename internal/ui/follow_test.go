package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// tape is a sound whose position a test sets.
type tape struct {
	at      float64
	playing bool
	level   float64
}

func (t *tape) Play(p session.Playback) error                                { t.playing, t.at = true, p.From; return nil }
func (t *tape) Stop()                                                        { t.playing = false }
func (t *tape) Position() (float64, bool)                                    { return t.at, t.playing }
func (t *tape) Audition(arrange.Division, []int, project.Registration) error { return nil }
func (t *tape) Hold(arrange.Division, int, bool, project.Registration)       {}
func (t *tape) SetClick(bool)                                                {}
func (t *tape) SetLevel(float64)                                             {}
func (t *tape) Status() string                                               { return "" }
func (t *tape) Close()                                                       {}

func TestTheConsoleFollowsThePassageThatSounds(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	chart := w.session.Chart()
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	w.ticking = true // the test is the clock
	stop := make(chan struct{})
	first := w.console.registration.label
	w.tick(stop)
	sound.at = 12 // well into the second passage of the demo at 168 a minute
	w.tick(stop)
	heard := w.session.HeardPassage()
	if heard != 1 || !w.strip.cards[1].current || w.strip.cards[0].current {
		t.Errorf("passage %d sounds; the raised card is another", heard)
	}
	if got, want := w.console.registration.label, chart.Passages[1].Registration.Name+" ▾"; got != want {
		t.Errorf("the console shows %q while %q sounds", got, want)
	}
	if err := w.session.SetSwell(0.25); err != nil {
		t.Fatal(err)
	}
	if w.session.Chart().Passages[1].Registration.Swell != 0.25 {
		t.Error("the swell that is shown is not the one that is set")
	}
	w.session.Stop()
	w.tick(stop)
	if got := w.console.registration.label; got != first || !w.strip.cards[0].current {
		t.Errorf("after the end the console shows %q, the caret's passage has %q", got, first)
	}
}
