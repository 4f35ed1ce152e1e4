package ui

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
)

// TestScrollingShowsNoBlankFrame scrolls through 200 bars in steps of odd
// sizes: the frame after each is whole, the same as one painted afresh, and no
// stretch of the view is empty.
func TestScrollingShowsNoBlankFrame(t *testing.T) {
	if raceDetector {
		t.Skip("it compares pixels, all of one goroutine")
	}
	w := open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 720))
	view := w.grid.scroll
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(view)
	lead := w.look.colours().Lead
	for i, by := range []float32{-40, -3, -250, -900, -17, -5000, 333, -1, 2000, -80, -80, -80} {
		view.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: by}})
		frame := w.win.Canvas().Capture()
		w.grid.repaint()
		fresh := w.win.Canvas().Capture()
		if n := differing(frame, fresh, 3); n > 0 {
			t.Errorf("step %d: %d pixels of the frame are not those of a fresh one", i, n)
		}
		r := image.Rect(int(at.X), int(at.Y), int(at.X+view.Size().Width), int(at.Y+view.Size().Height))
		if !holds(frame, r, lead) {
			t.Errorf("step %d: no note can be seen at offset %v", i, view.Offset.Y)
		}
	}
	if view.Offset.Y < 2000 {
		t.Errorf("scrolled to %v only", view.Offset.Y)
	}
}

// holds reports whether a colour can be seen in a part of a picture.
func holds(img image.Image, r image.Rectangle, c color.NRGBA) bool {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if color.NRGBAModel.Convert(img.At(x, y)) == color.Color(c) {
				return true
			}
		}
	}
	return false
}
