package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/reach"
)

// TestPedalsShowHowTheFootPlaysThem selects the demo's first note, under which
// the feet play.
func TestPedalsShowHowTheFootPlaysThem(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.session.SelectNote(0, false)
	marked := 0
	for _, k := range w.selectedKeys() {
		if (k.Division == arrange.Pedal) != (k.Part != reach.NoPart) {
			t.Errorf("key %d of the %v division is played by the part %q of a foot", k.Key, k.Division, k.Part)
		}
		if k.Part != reach.NoPart {
			marked++
		}
	}
	if marked == 0 {
		t.Error("no pedal is marked")
	}
}

// TestTheNextBlockIsOutlined plays the demo: of the block that comes next, keys that
// are not down already stand in outline with their fingers, and in a count-in nothing
// else is shown.
func TestTheNextBlockIsOutlined(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	w.ticking = true // the test is the clock
	w.session.SetCountIn(1)
	if err := w.session.PlayFromStart(); err != nil {
		t.Fatal(err)
	}
	shown := func(seconds float64) (down, outlined int) {
		sound.at = seconds
		w.tick(make(chan struct{}))
		keys := map[[2]int]bool{}
		for _, k := range w.console.lit {
			if at := [2]int{int(k.Division), k.Key}; keys[at] {
				t.Errorf("at %v s a key is shown twice", seconds)
			} else {
				keys[at] = true
			}
			switch {
			case !k.Ghost:
				down++
			case k.Finger == 0:
				t.Errorf("at %v s an outlined key has no finger", seconds)
			default:
				outlined++
			}
		}
		return down, outlined
	}
	if down, outlined := shown(-1); down != 0 || outlined < 4 || w.top.position.Text != "−1.2" {
		t.Errorf("in the count-in %d keys are lit and %d outlined, at %q", down, outlined, w.top.position.Text)
	}
	if down, outlined := shown(0.1); down < 4 || w.top.position.Text != "1.1" {
		t.Errorf("at the start %d keys are lit and %d outlined, at %q", down, outlined, w.top.position.Text)
	}
	some := 0
	for at := 0.2; at < 8; at += 0.2 {
		_, outlined := shown(at)
		some += outlined
	}
	if some < 40 {
		t.Errorf("%d keys outlined in forty looks", some)
	}
}
