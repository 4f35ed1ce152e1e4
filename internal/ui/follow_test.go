package ui

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// tape is a sound whose position a test sets.
type tape struct {
	at      float64
	playing bool
	level   float64
	status  string
	heard   int // how many keys sounded together last
}

func (t *tape) Play(p session.Playback) error { t.playing, t.at = true, p.From; return nil }
func (t *tape) Stop()                         { t.playing = false }
func (t *tape) Position() (float64, bool)     { return t.at, t.playing }
func (t *tape) Audition(_ arrange.Division, keys []int, _ project.Registration) error {
	t.heard = len(keys)
	return nil
}
func (t *tape) Hold(arrange.Division, int, bool) {}
func (t *tape) Set(project.Registration)         {}
func (t *tape) SetTone(project.Tone)             {}
func (t *tape) SetClick(bool)                    {}
func (t *tape) SetClickLevel(float64)            {}
func (t *tape) SetLevel(float64)                 {}
func (t *tape) Level() float64                   { return t.level }
func (t *tape) Status() string                   { return t.status }
func (t *tape) Close()                           {}

func TestTheConsoleFollowsThePassageThatSounds(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	chart := w.session.Chart()
	w.ticking = true // the test is the clock
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
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

func TestTheMeterFollowsThePeakAndWarnsOfTheLimiter(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	w.ticking = true // the test is the clock
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	now := time.Now()
	width := func(peak float64) float32 {
		now = now.Add(40 * time.Millisecond)
		w.top.showPeak(peak, now)
		return w.top.meter.fill.Size().Width
	}
	quiet, loud := width(0.05), width(0.5)
	if quiet <= 1 || loud <= quiet || loud > 112 {
		t.Errorf("the meter is %v at a twentieth and %v at half of full level", quiet, loud)
	}
	if fallen := width(0); fallen >= loud {
		t.Error("the meter does not fall")
	}
	width(0.95)
	if !strings.Contains(w.top.levelLabel.Text, "limited") {
		t.Errorf("no warning: %q", w.top.levelLabel.Text)
	}
	now = now.Add(limitedTime)
	width(0.1)
	if strings.Contains(w.top.levelLabel.Text, "limited") {
		t.Error("the warning stays")
	}
	w.session.Stop()
	w.tick(stop)
	if w.top.meter.fill.Position().X > 0 {
		t.Error("the meter stays after the end")
	}
}

func TestBordersOfPassagesAreDragged(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	first := w.session.Chart().Passages[2].First
	e := w.strip.edges[1]
	pull := func(dx float32) {
		d := &fyne.DragEvent{Dragged: fyne.Delta{DX: dx}}
		e.Dragged(d)
	}
	pull(barOfDrag)
	pull(barOfDrag)
	if w.session.CanUndo() || w.grid.band.Position().X < 0 {
		t.Error("on the way the border is shown and nothing is changed yet")
	}
	e.DragEnd()
	if got := w.session.Chart().Passages[2].First; got != first+2 {
		t.Errorf("the passage starts at %d, want %d", got, first+2)
	}
	pull(-1000)
	e.DragEnd()
	if got, before := w.session.Chart().Passages[2].First, w.session.Chart().Passages[1].First; got != before+1 {
		t.Errorf("the border went to %d; the passage before starts at %d", got, before)
	}
	w.session.SelectPassageAt(2)
	start := w.session.Chart().Passages[2].First
	w.FocusPanel(command.Strip)
	w.win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(customShortcut("Alt+Right"))
	if got := w.session.Chart().Passages[2].First; got != start+1 || w.session.CurrentPassage() != 2 {
		t.Errorf("Alt and Right: the passage starts at %d, want %d", got, start+1)
	}
}

func TestWithLessMotionTheCursorJumpsByBeats(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	w.ticking = true // the test is the clock
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	places := func() (n int) {
		seen := map[float32]bool{}
		for i := range 20 { // two beats at 168 a minute
			sound.at = float64(i) * 2 * 60 / 168 / 20
			w.tick(stop)
			seen[w.grid.playhead.Position().X] = true
		}
		return len(seen)
	}
	if n := places(); n < 15 {
		t.Errorf("gliding the cursor has %d places in two beats", n)
	}
	w.run("view.motion")
	if n := places(); n != 2 {
		t.Errorf("with less motion the cursor has %d places in two beats", n)
	}
}
