package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
)

// Where the screen is drawn by software every frame costs by the pixel: a large
// rounded rectangle most, a picture less, a plain rectangle a little less, and
// the colour that the window is cleared to nothing. The panels therefore lie
// bare on one ground with thin lines between them, and a focus ring is made of
// four thin lines.

// newHair is a thin line between panels.
func newHair(l *look) *canvas.Rectangle { return canvas.NewRectangle(l.colours().Line) }

// newRing is the frame around the panel that has the keyboard, hidden at
// first.
func newRing() *fyne.Container {
	var lines []fyne.CanvasObject
	for range 4 {
		lines = append(lines, canvas.NewRectangle(color.Transparent))
	}
	r := container.New(ringLines{}, lines...)
	r.Hide()
	return r
}

// ringLines places the four lines of a ring along the edges.
type ringLines struct{}

// MinSize asks for nothing.
func (ringLines) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 0) }

// Layout draws the frame just inside the size.
func (ringLines) Layout(o []fyne.CanvasObject, s fyne.Size) {
	const w = 1.5
	put(o[0], 0, 0, s.Width, w)
	put(o[1], 0, s.Height-w, s.Width, w)
	put(o[2], 0, 0, w, s.Height)
	put(o[3], s.Width-w, 0, w, s.Height)
}
