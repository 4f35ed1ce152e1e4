package ui

import (
	"fyne.io/fyne/v2"

	"organbook/assets"
	"organbook/internal/arrange"
	"organbook/internal/theory"
	"organbook/internal/ui/paint"
)

// paintCanvas is what pictures are painted on.
type paintCanvas = paint.Canvas

// sketch is a picture of the handbook, drawn by the painters that draw the
// window.
type sketch struct {
	size  fyne.Size
	paint func(w *Window, c *paintCanvas)
}

// gridSketchWidth holds a bar, and is no wider than the handbook's column in most
// windows, so that the words in the picture are as large as the grid's own.
const gridSketchWidth = 344

// legendSketchWidth fits the narrowest column, for the same reason.
const legendSketchWidth = 264

var sketches = map[string]sketch{
	"grid":  {fyne.NewSize(gridSketchWidth, 274), paintGridSketch},
	"rows":  {fyne.NewSize(legendSketchWidth, 20), paintRowsSketch},
	"limbs": {fyne.NewSize(legendSketchWidth, 40), paintLimbsSketch},
	"signs": {fyne.NewSize(legendSketchWidth, 40), paintSignsSketch},
}

// paintGridSketch shows the start of the demo.
func paintGridSketch(w *Window, c *paintCanvas) {
	th := w.look.colours()
	chart, err := assets.Demo()
	if err != nil {
		c.Clear(th.Raised)
		return
	}
	l := paint.LayoutGrid(arrange.Realise(chart, arrange.Options{}), paint.GridOptions{Width: gridSketchWidth, Words: tr})
	paint.PaintGrid(c, l, th, nil)
}

func paintRowsSketch(w *Window, c *paintCanvas) {
	th := w.look.colours()
	c.Clear(th.Raised)
	for i, name := range []string{"home", "away", "outside"} {
		r := paint.Rect{X: float64(i) * 88, Y: 4, W: 34, H: 12}
		c.FillRect(r, th.Ground)
		switch i {
		case 0:
			c.FillRect(r, th.HomeRow)
		case 1:
			c.FillRect(r, th.AwayRow)
			c.Hatch(r, 6, 1, th.AwayHatch)
		}
		sketchText(c, th, r.Right()+6, 0, name)
	}
}

func paintLimbsSketch(w *Window, c *paintCanvas) {
	th := w.look.colours()
	c.Clear(th.Raised)
	for i, letter := range []string{"R", "L", "LF", "RF"} {
		x, y, limb := float64(i%2)*132, float64(i/2)*20, arrange.Limb(i)
		c.Limb(paint.Rect{X: x, Y: y + 3, W: 14, H: 14}, limb, 3, th)
		sketchText(c, th, x+20, y, letter+" "+tr(limb.String()))
	}
}

func paintSignsSketch(w *Window, c *paintCanvas) {
	th := w.look.colours()
	c.Clear(th.Raised)
	for _, sign := range []struct {
		x, y     float64
		severity arrange.Severity
		says     string
	}{{10, 0, arrange.Caution, "a caution"}, {142, 0, arrange.Demanding, "demanding"}, {10, 20, arrange.Unplayable, "cannot be played as written"}} {
		c.Finding(sign.x, sign.y+10, 6, sign.severity, th)
		sketchText(c, th, sign.x+15, sign.y, sign.says)
	}
}

// sketchText writes a word into the line of a sketch that starts at y.
func sketchText(c *paintCanvas, th *paint.Theme, x, y float64, s string) {
	c.Text(x, y+14, tr(s), paint.Style{Font: paint.Regular, Size: paint.SizeSmall, Color: th.Text}, paint.AlignLeft)
}

// paintHandbookBlock shows voices on a staff and on keys.
func paintHandbookBlock(w *Window, c *paintCanvas, voices []theory.Pitch) {
	th := w.look.colours()
	c.Clear(th.Raised)
	paint.PaintBlockStaff(c, paint.Rect{X: 4, Y: 2, W: 130, H: 80}, voices, th)
	paint.PaintBlockKeys(c, paint.Rect{X: 150, Y: 12, W: 176, H: 60}, paint.BlockKeysOf(voices, arrange.RightHand), th)
}
