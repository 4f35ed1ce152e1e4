package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// dragging is what the pointer holds on the console.
type dragging struct {
	kind     byte // 'd' a drawbar, 'c' an effect, 'k' a key, 0 nothing
	bar      int  // place of the drawbar in the console
	value    int
	division arrange.Division
	key      int
}

// drawbarAt returns the drawbar under a point and the setting meant there.
func (c *consoleView) drawbarAt(p fyne.Position) (place, value int, ok bool) {
	if !c.stops.raster.Visible() {
		return 0, 0, false
	}
	origin := c.stops.raster.Position()
	for d, l := range c.bars {
		if l == nil {
			continue
		}
		if bar, v, hit := l.Hit(float64(p.X-origin.X), float64(p.Y-origin.Y)); hit {
			return 9*d + bar, int(v), true
		}
	}
	return 0, 0, false
}

func (c *consoleView) keyAt(p fyne.Position) (arrange.Division, int, bool) {
	origin := c.keys.raster.Position()
	if c.layout == nil || !c.keys.raster.Visible() {
		return 0, 0, false
	}
	return c.layout.KeyAt(float64(p.X-origin.X), float64(p.Y-origin.Y))
}

// MouseDown takes hold of a drawbar or an effect, or presses a key.
func (c *consoleView) MouseDown(e *desktop.MouseEvent) {
	c.w.focusPanel(c.panelAt(e.Position))
	if place, value, ok := c.drawbarAt(e.Position); ok {
		c.w.session.PickDrawbar(place)
		c.dragged = dragging{kind: 'd', bar: place, value: value}
		c.stops.invalidate()
	} else if control, part, ok := c.effects.at(e.Position); ok {
		c.dragged = dragging{kind: 'c'}
		c.effects.hold(control, part)
	} else if d, key, ok := c.keyAt(e.Position); ok {
		c.press(d, key)
	}
}

// panelAt is the panel that a click gives the keyboard: the grid while played
// keys are written there, for rest, length and correction are keys of the grid.
func (c *consoleView) panelAt(p fyne.Position) command.Panel {
	if _, _, onKey := c.keyAt(p); onKey && c.w.session.StepEntry() {
		return command.Grid
	}
	return command.Console
}

// Dragged pulls the drawbar or effect, or slides over the keys.
func (c *consoleView) Dragged(e *fyne.DragEvent) {
	switch c.dragged.kind {
	case 'd':
		d, _ := session.DrawbarPlace(c.dragged.bar)
		b := c.bars[d].Bars[0]
		x := float64(e.Position.X-c.stops.raster.Position().X) - b.X
		c.dragged.value = int(clamp(float32(x/b.W*project.MaxDrawbar+0.5), 0, project.MaxDrawbar))
		c.stops.invalidate()
	case 'c':
		c.effects.drag(e.Position)
	case 'k':
		if d, key, ok := c.keyAt(e.Position); ok && (d != c.dragged.division || key != c.dragged.key) {
			c.release()
			c.press(d, key)
		}
	}
}

// DragEnd lets go.
func (c *consoleView) DragEnd() { c.letGo() }

// MouseUp lets go.
func (c *consoleView) MouseUp(*desktop.MouseEvent) { c.letGo() }

func (c *consoleView) letGo() {
	held := c.dragged
	c.release()
	c.effects.letGo()
	c.dragged = dragging{}
	if held.kind == 'd' {
		c.w.grid.say(c.w.session.SetDrawbar(held.bar, held.value))
		c.stops.invalidate()
	}
}

func (c *consoleView) press(d arrange.Division, key int) {
	c.dragged = dragging{kind: 'k', division: d, key: key}
	c.w.session.Hold(d, key, true)
}

func (c *consoleView) release() {
	if c.dragged.kind == 'k' {
		c.w.session.Hold(c.dragged.division, c.dragged.key, false)
	}
}

// Scrolled pulls the drawbar or effect under the pointer.
func (c *consoleView) Scrolled(e *fyne.ScrollEvent) {
	if e.Scrolled.DY == 0 {
		return
	}
	by := 1
	if e.Scrolled.DY < 0 {
		by = -1
	}
	if control, _, ok := c.effects.at(e.Position); ok {
		c.effects.turn(control, by)
		return
	}
	place, _, ok := c.drawbarAt(e.Position)
	if !ok {
		return
	}
	c.w.grid.say(c.w.session.SetDrawbar(place, c.w.session.DrawbarValue(place)+by))
}

// MouseIn does nothing; desktop.Hoverable asks for it.
func (c *consoleView) MouseIn(*desktop.MouseEvent) {}

// MouseMoved says what is under the pointer.
func (c *consoleView) MouseMoved(e *desktop.MouseEvent) {
	if control, _, ok := c.effects.at(e.Position); ok {
		c.w.hint(session.Controls[control].Hint + ": drag or turn the wheel")
		return
	}
	switch place, _, ok := c.drawbarAt(e.Position); {
	case ok:
		d, i := session.DrawbarPlace(place)
		feet := paint.Footages[:]
		if d == arrange.Pedal {
			feet = paint.PedalFootages[:]
		}
		c.w.hint("Drawbar " + feet[i] + " of the " + d.String() + " division: drag or turn the wheel")
	default:
		c.w.hint("")
	}
}

// MouseOut takes the hint away.
func (c *consoleView) MouseOut() { c.w.hint("") }
