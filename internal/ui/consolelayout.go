package ui

import (
	"fyne.io/fyne/v2"
)

// consoleLayout places drawbars left, keyboards in the middle, settings right.
type consoleLayout struct{ c *consoleView }

// MinSize is left to the frame.
func (*consoleLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(600, 190) }

// Layout places everything on the panel.
func (l *consoleLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	c := l.c
	const pad, head, right float32 = 16, 34, 206
	put(c.plate.root, 0, 0, s.Width, s.Height)
	put(c.ring, 0, 0, s.Width, s.Height)
	put(c, 0, 0, s.Width, s.Height)
	move(c.title, pad, 9)
	put(c.registration, pad+62, 5, c.registration.MinSize().Width, 24)
	fold := c.foldButton.MinSize().Width
	put(c.foldButton, s.Width-pad-fold, 5, fold, 24)
	effects := c.effects.MinSize().Width
	put(c.effects, s.Width-pad-fold-unit-effects, 5, effects, 24)
	if c.folded {
		c.plate.fillAll()
		place(c.legend, s.Width-pad-fold-16-legendWidth, 7, legendWidth, legendRow)
		return
	}
	stops := float32(168)
	if s.Height < 290 {
		stops = 300
	}
	keys := s.Width - stops - right - 4*pad
	move(c.name, pad+stops+pad+46, 10)
	place(c.legend, 2*pad+stops+keys-legendWidth, 7, legendWidth, legendRow)
	l.controls(s.Width-right-pad, s)
	changed := place(c.stops, pad, head, stops, s.Height-head-12)
	changed = place(c.keys, 2*pad+stops, head, keys, s.Height-head-14) || changed
	c.plate.leaveOut(c.keys)
	if changed || c.layout == nil {
		c.relayout()
	}
}

// place puts a picture and reports whether its size changed.
func place(p *picture, x, y, w, h float32) bool {
	size := p.raster.Size()
	w, h = float32(int(w)), float32(int(h))
	p.place(float32(int(x)), float32(int(y)), w, h)
	return size != fyne.NewSize(w, h)
}

// controls places the right-hand column.
func (l *consoleLayout) controls(x float32, s fyne.Size) {
	c := l.c
	y := float32(12)
	step := clamp((s.Height-150)/4, 6, 26)
	move(c.labels[0], x, y)
	row(x, y+18, 206, c.rotary)
	y += 44 + step
	move(c.labels[1], x, y)
	put(c.swell, x, y+18, 206, 14)
	y += 34 + step
	move(c.labels[2], x, y)
	row(x, y+18, 206, c.layers[:3])
	row(x, y+18+28, 206, c.layers[3:])
}

// row shares a width out among buttons by their labels.
func row(x, y, width float32, buttons []*button) {
	for _, b := range buttons {
		w := b.MinSize().Width
		put(b, x, y, w, 24)
		x += w + unit
	}
}
