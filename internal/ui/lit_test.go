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
