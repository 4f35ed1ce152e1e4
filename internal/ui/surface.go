package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/ui/paint"
)

// Large rounded rectangles are costly where the screen is drawn by software:
// the toolkit works out every pixel of them in every frame. A large picture
// costs less and a plain rectangle least. A panel's plate is therefore a plain
// rectangle with four small pictures in its corners, and a focus ring is made
// of four thin lines.

// plate is the surface of a panel: rounded, on the window's ground.
type plate struct {
	root    *fyne.Container
	look    *look
	faces   [4]*canvas.Rectangle // over, under, left and right of the hole
	corners [4]*picture
	// hole is covered by a picture and need not be filled; empty at first.
	holeAt   fyne.Position
	holeSize fyne.Size
}

func newPlate(l *look) *plate {
	p := &plate{look: l}
	var objects []fyne.CanvasObject
	for i := range p.faces {
		p.faces[i] = canvas.NewRectangle(l.colours().Panel)
		objects = append(objects, p.faces[i])
	}
	for i := range p.corners {
		p.corners[i] = newPainted(func(c *paint.Canvas) { p.paintCorner(c, float64(i%2), float64(i/2)) })
		objects = append(objects, p.corners[i].raster)
	}
	p.root = container.New(p, objects...)
	return p
}

// paintCorner paints the quarter of a round plate at a corner: 0 or 1 from the
// left and from the top.
func (p *plate) paintCorner(c *paint.Canvas, right, bottom float64) {
	const r = float64(radiusPanel)
	c.Clear(p.look.colours().Ground)
	c.RoundRect(paint.Rect{X: -right * r, Y: -bottom * r, W: 2 * r, H: 2 * r}, r, p.look.colours().Panel)
}

// MinSize asks for nothing.
func (*plate) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, 0) }

// Layout fills the panel and puts the corners on it.
func (p *plate) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	x0, y0 := p.holeAt.X, p.holeAt.Y
	x1, y1 := x0+p.holeSize.Width, y0+p.holeSize.Height
	put(p.faces[0], 0, 0, s.Width, y0)
	put(p.faces[1], 0, y1, s.Width, s.Height-y1)
	put(p.faces[2], 0, y0, x0, y1-y0)
	put(p.faces[3], x1, y0, s.Width-x1, y1-y0)
	for i, c := range p.corners {
		c.place(float32(i%2)*(s.Width-radiusPanel), float32(i/2)*(s.Height-radiusPanel), radiusPanel, radiusPanel)
	}
}

// leaveOut spares the place of a picture that covers it.
func (p *plate) leaveOut(c *picture) {
	p.holeAt, p.holeSize = c.raster.Position(), c.raster.Size()
	p.Layout(nil, p.root.Size())
}

// fillAll fills the hole again.
func (p *plate) fillAll() {
	p.holeAt, p.holeSize = fyne.Position{}, fyne.Size{}
	p.Layout(nil, p.root.Size())
}

// invalidate follows the theme.
func (p *plate) invalidate() {
	for _, f := range p.faces {
		f.FillColor = p.look.colours().Panel
		f.Refresh()
	}
	for _, c := range p.corners {
		c.invalidate()
	}
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
