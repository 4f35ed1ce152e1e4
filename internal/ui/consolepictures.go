package ui

import (
	"image"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/paint"
	"organbook/internal/ui/session"
)

// relayout places keyboards and drawbars for the size.
func (c *consoleView) relayout() {
	size := c.keys.raster.Size()
	c.layout = nil
	if c.manuals > 0 {
		c.layout = paint.LayoutManuals(float64(size.Width), float64(size.Height), c.console())
	}
	if c.layout == nil {
		c.layout = paint.LayoutConsole(float64(size.Width), float64(size.Height), c.console())
	}
	c.layout.Words = paintedWord
	c.rest = nil
	c.placeStops(c.stops.raster.Size())
	c.keys.invalidate()
	c.stops.invalidate()
}

// console is the one that the chart is for.
func (c *consoleView) console() project.Console {
	k, ok := project.ConsoleByID(c.w.session.Chart().Console)
	if !ok {
		k, _ = project.ConsoleByID(project.DefaultConsole)
	}
	return k
}

// placeStops puts the manuals' drawbars side by side, and the pedal's under them;
// where the height is short, beside them. A console without pedals has none.
func (c *consoleView) placeStops(s fyne.Size) {
	const title, between, pedals = 18.0, 12.0, 92.0
	w, h := float64(s.Width), float64(s.Height)
	column := func(i int, x, y, w, h float64) {
		c.bars[i] = paint.LayoutDrawbars(paint.Rect{X: x, Y: y, W: w, H: h}, arrange.Division(i))
	}
	if !c.w.session.HasPedals() {
		manual := (w - between) / 2
		row := min((h-title)/9, 24)
		column(0, 0, 0, manual, title+9*row)
		column(1, manual+between, 0, manual, title+9*row)
		c.bars[arrange.Pedal] = nil
		return
	}
	if s.Height < lowStops {
		manual := (w - pedals - 2*between) / 2
		column(0, 0, 0, manual, h)
		column(1, manual+between, 0, manual, h)
		column(2, w-pedals, 0, pedals, title+2*c.bars[0].RowHeight)
		return
	}
	manual := (w - between) / 2
	row := min((h-2*title-8)/11, 24)
	column(0, 0, 0, manual, title+9*row)
	column(1, manual+between, 0, manual, title+9*row)
	column(2, 0, title+9*row+8, manual, title+2*row)
}

// lowStops is the height of the drawbars under which the rows of a manual and of
// the pedal do not stand under each other at a size that can be read.
const lowStops float32 = 215

// paintKeys draws the keyboards from the kept picture at rest, and the lit
// keys over it.
func (c *consoleView) paintKeys(img *image.RGBA, scale float64) {
	if c.layout == nil {
		return
	}
	if c.rest == nil || c.rest.Rect != img.Rect {
		c.rest = image.NewRGBA(img.Rect)
		paint.PaintConsole(paint.NewCanvas(c.rest, scale, 0, 0), c.layout, c.w.look.colours(), c.w.look.colours().Panel)
	}
	copy(img.Pix, c.rest.Pix)
	paint.PaintLit(paint.NewCanvas(img, scale, 0, 0), c.layout, c.w.look.colours(), c.lit)
}

// paintStops draws the drawbars; the one with the keyboard is framed.
func (c *consoleView) paintStops(img *image.RGBA, scale float64) {
	cv := paint.NewCanvas(img, scale, 0, 0)
	th := c.w.look.colours()
	cv.Clear(th.Panel)
	r := c.w.session.LiveRegistration()
	if c.dragged.kind == 'd' {
		d, i := session.DrawbarPlace(c.dragged.bar)
		paint.Settings(&r, d)[i] = uint8(c.dragged.value)
	}
	for i, l := range c.bars {
		if l != nil {
			d := arrange.Division(i)
			paint.PaintDrawbars(cv, l, th, capital(paintedWord(d.String())), paint.Settings(&r, d), th.Panel)
		}
	}
	if c.focused {
		at, ok := c.w.session.Drawbar()
		d, i := session.DrawbarPlace(at)
		if l := c.bars[d]; ok && l != nil {
			cv.StrokeRound(paint.Rect{X: l.X + 1, Y: l.Bars[i].CentreY() - l.RowHeight/2, W: l.W - 1, H: l.RowHeight}, 3, 1, th.Accent)
		}
	}
}
