package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/ui/paint"
)

// consoleLayout places drawbars left, keyboards in the middle, settings right.
type consoleLayout struct{ c *consoleView }

// MinSize is left to the frame.
func (*consoleLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(600, 190) }

// Layout places everything on the panel.
func (l *consoleLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	c := l.c
	const pad, head, right float32 = 16, 34, 206
	put(c.ring, 0, 0, s.Width, s.Height)
	put(c, 0, 0, s.Width, s.Height)
	move(c.title, pad, 9)
	put(c.registration, pad+62, 5, c.registration.MinSize().Width, 24)
	fold := c.foldButton.MinSize().Width
	put(c.foldButton, s.Width-pad-fold, 5, fold, 24)
	effects := c.effectsButton.MinSize().Width
	put(c.effectsButton, s.Width-pad-fold-unit-effects, 5, effects, 24)
	narrow := s.Width < leastControls
	setVisible(!c.folded && !narrow, c.controls()...)
	stops := float32(stopsWidth)
	if s.Width < 1200 {
		stops = leastStops
	}
	keys := s.Width - stops - right - 4*pad
	if narrow {
		keys += right + pad
	}
	c.cramped = keys < leastEffects
	registered := c.registration.Position().X + c.registration.MinSize().Width + 2*unit
	c.letters = narrow && registered+c.legendWidth(false) > s.Width-pad-fold-unit-effects-2*unit
	width := c.legendWidth(c.letters)
	if c.folded {
		c.effects.picture.raster.Hide()
		place(c.legend, s.Width-pad-fold-16-width, 7, width, legendRow)
		return
	}
	x := 2*pad + stops // of the keyboards
	y, before := head, c.manuals
	if c.cramped {
		c.manuals = 0
		l.effects(pad, head, keys+stops+pad, s.Height-head-12)
	} else {
		c.manuals = l.manuals(keys, s.Height-head-12)
		if l.effects(x, head, keys, s.Height-head-12) {
			x, keys = x+effectsWidth+pad, keys-effectsWidth-pad
		}
	}
	high := s.Height - head - 14
	if c.manuals > 0 {
		y, high = s.Height-12-c.manuals, c.manuals
	}
	legend := x + keys - width
	if narrow {
		legend = s.Width - pad - fold - unit - effects - 2*unit - width
	}
	move(c.name, pad+stops+pad+46, 10)
	setVisible(c.name.Position().X+c.name.MinSize().Width < legend, c.name)
	place(c.legend, legend, 7, width, legendRow)
	l.controls(s.Width-right-pad, s)
	changed := place(c.stops, pad, head, stops, s.Height-head-12)
	changed = place(c.keys, x, y, keys, high) || changed
	if changed || c.layout == nil || (before > 0) != (c.manuals > 0) {
		c.relayout()
	}
}

// manuals returns the height that the manuals get under the effects where both do
// not stand beside each other; 0 for none, and where the effects are not shown.
func (l *consoleLayout) manuals(w, h float32) float32 {
	const apart, most float32 = 8, 110
	if !l.c.showsEffects() || w >= effectsWidth+16+leastKeys {
		return 0
	}
	room := min(h-lowEffects-apart, most)
	if paint.LayoutManuals(float64(w), float64(room), l.c.console()) == nil {
		return 0
	}
	return room
}

// lowEffects is the least height of the effects whose rows can be read and pulled.
const lowEffects float32 = 18 + 9*13

// effects places the effects where they are shown, and reports whether the
// keyboards begin after them; in a narrower window the manuals stand under them, or
// none where that is too low, and in a cramped one the effects are in the place of
// the drawbars as well.
func (l *consoleLayout) effects(x, y, w, h float32) bool {
	c := l.c
	shown := c.showsEffects()
	setVisible(!shown || !c.cramped, c.stops.raster)
	if !shown {
		c.effects.picture.raster.Hide()
		c.keys.raster.Show()
		return false
	}
	c.effects.picture.raster.Show()
	beside := !c.cramped && w >= effectsWidth+16+leastKeys
	if beside {
		w = effectsWidth
		c.keys.raster.Show()
	} else if c.manuals > 0 {
		h -= c.manuals + 8
		c.keys.raster.Show()
	} else {
		c.keys.raster.Hide()
	}
	if place(c.effects.picture, x, y, w, h) || c.effects.columns[0] == nil {
		c.effects.layout()
	}
	return beside
}

// leastEffects is the width beside the drawbars under which the tracks of the
// effects are too short to be pulled.
const leastEffects float32 = 520

// showsEffects reports whether the effects are in sight: a cramped console shows
// them or the drawbars, whichever have the keyboard.
func (c *consoleView) showsEffects() bool {
	_, drawbar := c.w.session.Drawbar()
	return c.effectsShown && !(c.cramped && drawbar)
}

// stopsWidth and leastStops are the widths of the drawbars, in a wide and in a
// narrow window.
const stopsWidth, leastStops float32 = 340, 300

// leastControls is the width under which the settings at the right give their
// room to the keyboards; each of them is a command.
const leastControls float32 = 1000

// controls are the settings at the right.
func (c *consoleView) controls() []fyne.CanvasObject {
	objects := []fyne.CanvasObject{c.swell}
	for _, b := range append(append([]*button{}, c.rotary...), c.layers...) {
		objects = append(objects, b)
	}
	for _, t := range c.labels {
		objects = append(objects, t)
	}
	return objects
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
