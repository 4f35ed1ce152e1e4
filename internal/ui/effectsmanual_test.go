package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
)

// TestManualsBesideTheEffects shows the effects at common sizes of the window: the
// manuals that have room stand under them or beside them, apart from them, and their
// keys can be struck; without the effects all keyboards are there.
func TestManualsBesideTheEffects(t *testing.T) {
	for _, tt := range []struct {
		size    fyne.Size
		manuals int
		pedals  bool
	}{
		{fyne.NewSize(1280, 720), 1, false}, {fyne.NewSize(1440, 900), 2, false}, {fyne.NewSize(1920, 1080), 2, true},
	} {
		w := open(t, Options{}, alwaysDark, tt.size)
		c := w.console
		for range 2 {
			w.run("console.effects")
			keys, effects := c.keys.raster, c.effects.picture.raster
			if !keys.Visible() || !effects.Visible() {
				t.Fatalf("%v: keyboards are shown: %v, effects: %v", tt.size, keys.Visible(), effects.Visible())
			}
			if e := effects.Position(); e.Y+effects.Size().Height > keys.Position().Y && e.X+effects.Size().Width > keys.Position().X {
				t.Errorf("%v: keyboards at %v lie over the effects", tt.size, keys.Position())
			}
			manuals := 0
			for _, d := range []arrange.Division{arrange.Upper, arrange.Lower} {
				r, _, ok := c.layout.KeyRect(d, 60)
				if !ok {
					continue
				}
				manuals++
				p := keys.Position().AddXY(float32(r.CentreX()), float32(r.Bottom())-3)
				if got, key, ok := c.keyAt(p); !ok || got != d || key != 60 || r.H < 36 || r.Bottom() > float64(keys.Size().Height) {
					t.Errorf("%v: middle C of the %v manual at %v is hit as %v %v", tt.size, d, r, got, key)
				}
			}
			if _, _, pedals := c.layout.KeyRect(arrange.Pedal, 36); manuals != tt.manuals || pedals != tt.pedals {
				t.Errorf("%v: %d manuals beside the effects, pedals %v", tt.size, manuals, pedals)
			}
			w.run("console.effects")
			if _, _, pedals := c.layout.KeyRect(arrange.Pedal, 36); !pedals || c.effects.picture.raster.Visible() {
				t.Errorf("%v: without the effects pedals are shown: %v", tt.size, pedals)
			}
		}
	}
}
