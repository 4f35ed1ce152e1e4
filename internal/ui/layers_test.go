package ui

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
)

// TestLayersStayInPlace mutes the layers, each and alone: their buttons keep place
// and width in either language, and those that are silent look otherwise.
func TestLayersStayInPlace(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	for _, language := range []string{"language.en", "language.de"} {
		w.run(language)
		places := func() (list []image.Rectangle) {
			for _, b := range w.console.layers {
				p, s := b.Position(), b.Size()
				list = append(list, image.Rect(int(p.X), int(p.Y), int(p.X+s.Width), int(p.Y+s.Height)))
			}
			return list
		}
		heard := places()
		for i, l := range mutable {
			for _, id := range []string{"mute.", "mute.", "alone.", "alone."} {
				w.run(id + l.String())
				for k, r := range places() {
					if r != heard[k] {
						t.Errorf("%s: after %s%v the button of %v is at %v, was at %v", language, id, l, mutable[k], r, heard[k])
					}
					if b := w.console.layers[k]; b.struck != w.session.Muted(mutable[k]) || b.on == b.struck {
						t.Errorf("%s: after %s%v the button of %v is crossed out: %v", language, id, l, mutable[k], b.struck)
					}
				}
			}
			w.run("mute." + l.String())
			b := w.console.layers[i]
			silent := w.win.Canvas().Capture()
			w.run("mute." + l.String())
			if at := b.Position().Add(w.console.root.Position()); sameIn(silent, w.win.Canvas().Capture(), at, b.Size()) {
				t.Errorf("%s: %v looks the same silent and heard", language, l)
			}
		}
	}
}

// sameIn reports whether two pictures are the same in a rectangle.
func sameIn(a, b image.Image, at fyne.Position, size fyne.Size) bool {
	for y := int(at.Y); y < int(at.Y+size.Height); y++ {
		for x := int(at.X); x < int(at.X+size.Width); x++ {
			if a.At(x, y) != b.At(x, y) {
				return false
			}
		}
	}
	return true
}
