package ui

import (
	"fmt"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// TestTheSwellsEndIsSetByMouseAndKey clicks with the second button, presses the keys,
// and takes both back.
func TestTheSwellsEndIsSetByMouseAndKey(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	end := func() float64 { return w.session.Heard().Registration.SwellAt(1) }
	start := w.session.Heard().Registration.Swell
	b := w.console.swell
	b.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(b.Size().Width*0.9, 5)}, Button: desktop.MouseButtonSecondary})
	b.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary})
	if w.session.Heard().Registration.Swell != start || math.Abs(end()-0.9) > 0.006 || !b.marked {
		t.Errorf("the swell goes from %g to %g and was at %g", w.session.Heard().Registration.Swell, end(), start)
	}
	w.session.Undo()
	if end() != start || b.marked {
		t.Errorf("taken back, it ends at %g, marked %t", end(), b.marked)
	}
	w.focusPanel(command.Console)
	w.stroke(command.Console, "Alt+Right")
	if math.Abs(end()-start-0.05) > 1e-9 {
		t.Errorf("Alt+Right ends the swell at %g", end())
	}
	w.stroke(command.Console, "Alt+Left")
	if end() != start || w.session.Heard().Registration.Glide != 0 {
		t.Errorf("Alt+Left ends the swell at %g", end())
	}
}

// TestTheSwellIsSeenGliding plays to the middle of a passage.
func TestTheSwellIsSeenGliding(t *testing.T) {
	sound := &tape{level: -12}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	if err := w.session.SetSwell(0.2); err != nil {
		t.Fatal(err)
	}
	if err := w.session.SetSwellAtEnd(1); err != nil {
		t.Fatal(err)
	}
	_, end := w.session.Chart().PassageTime(0)
	w.ticking = true // the test is the clock
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	stop := make(chan struct{})
	for _, part := range []float64{0.25, 0.5, 0.75} {
		sound.at = part * float64(end) / float64(project.Quarter) * 60 / w.session.Chart().Tempo
		w.tick(stop)
		at, _ := w.session.Cursor()
		if want := w.session.SwellAt(at); math.Abs(w.console.swell.value-want) > 1e-9 || want < 0.2+0.7*part || want > 0.2+0.9*part {
			t.Errorf("at %g of the passage the bar shows %g, the chart has %g", part, w.console.swell.value, want)
		} else if label, said := w.console.labels[1].Text, fmt.Sprintf("Swell  %.0f → 100 %%", 100*want); label != said {
			t.Errorf("at %g of the passage it says %q, want %q", part, label, said)
		}
	}
	w.session.Stop()
	w.tick(stop)
	if w.console.swell.value != 0.2 {
		t.Errorf("after the end the bar shows %g", w.console.swell.value)
	}
}
