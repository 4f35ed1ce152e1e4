package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/ui/paint"
)

// Large rounded rectangles are costly where the screen is drawn by software:
// the toolkit works out every pixel of them in every frame. A panel's plate is
// therefore a kept picture, and a focus ring is made of four thin lines.

// newPlate is the surface of a panel: rounded, on the window's ground.
func newPlate(l *look) *picture {
	return newPainted(func(c *paint.Canvas) {
		p := l.colours()
		c.Clear(p.Ground)
		c.RoundRect(c.Visible(), float64(radiusPanel), p.Panel)
	})
}

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
