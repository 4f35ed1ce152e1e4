package paint

import (
	"image/color"
	"math"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Footages names the drawbars of a manual in order.
var Footages = [9]string{"16′", "5⅓′", "8′", "4′", "2⅔′", "2′", "1⅗′", "1⅓′", "1′"}

// PedalFootages names the pedals' drawbars.
var PedalFootages = [2]string{"16′", "8′"}

// maxDrawbar is a drawbar pulled all the way.
const maxDrawbar = 8

// DrawbarLayout is the geometry of one division's drawbars: a title and a
// horizontal bar for each footage.
type DrawbarLayout struct {
	// Division tells which.
	Division arrange.Division
	Rect
	// Bars are the bars' full lengths, in the order of the footages.
	Bars []Rect
	// RowHeight is the distance between bars, Size that of footages and values.
	RowHeight, Size float64
}

// Room above the bars, in units, and beside them, as a part of the size of their
// text.
const (
	titleRoom   = 18.0
	footageRoom = 2.9
	valueRoom   = 1.5
)

// maxDrawbarRow is a row whose figures are read from a metre away: higher ones
// would only set the bars apart.
const maxDrawbarRow = 24.0

// LayoutDrawbars places a division's drawbars in a rectangle.
func LayoutDrawbars(r Rect, d arrange.Division) *DrawbarLayout {
	n := len(Footages)
	if d == arrange.Pedal {
		n = len(PedalFootages)
	}
	l := &DrawbarLayout{Division: d, Rect: r, RowHeight: math.Min(maxDrawbarRow, (r.H-titleRoom)/float64(n))}
	l.Size = math.Min(SizeHead, l.RowHeight*0.8)
	thick := math.Max(4, math.Round(l.RowHeight*0.46))
	footages, values := math.Round(footageRoom*l.Size), math.Round(valueRoom*l.Size)
	for i := 0; i < n; i++ {
		y := r.Y + titleRoom + l.RowHeight*float64(i) + (l.RowHeight-thick)/2
		l.Bars = append(l.Bars, Rect{r.X + footages, y, r.W - footages - values, thick})
	}
	return l
}

// Hit returns the drawbar under a point and the setting, 0 to 8, that a pull
// to there means. The whole row counts, so that the ends are easy to reach.
func (l *DrawbarLayout) Hit(x, y float64) (bar int, setting uint8, ok bool) {
	bar = int(math.Floor((y - l.Y - titleRoom) / l.RowHeight))
	if bar < 0 || bar >= len(l.Bars) || x < l.X || x >= l.Right() {
		return 0, 0, false
	}
	b := l.Bars[bar]
	v := math.Round((x - b.X) / b.W * maxDrawbar)
	return bar, uint8(math.Max(0, math.Min(maxDrawbar, v))), true
}

// Settings returns the drawbars of a division.
func Settings(r *project.Registration, d arrange.Division) []uint8 {
	switch d {
	case arrange.Upper:
		return r.Upper[:]
	case arrange.Lower:
		return r.Lower[:]
	}
	return r.Pedal[:]
}

// drawbarLimb is the limb whose colour a division's drawbars wear: the one
// that plays it as a rule.
var drawbarLimb = [...]arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot}

// PaintDrawbars paints one division's drawbars with their title and values.
func PaintDrawbars(c *Canvas, l *DrawbarLayout, th *Theme, title string, settings []uint8, ground color.NRGBA) {
	c.FillRect(l.Rect, ground)
	left := l.Bars[0].X
	c.Text(left, l.Y+12, Shorten(title, SemiBold, titleSize(l), l.Right()-left), Style{SemiBold, titleSize(l), th.Text}, AlignLeft)
	names := Footages[:]
	if l.Division == arrange.Pedal {
		names = PedalFootages[:]
	}
	for i, b := range l.Bars {
		if i >= len(settings) {
			break
		}
		base := b.CentreY() + l.Size*capHeight/2
		c.Text(b.X-6, base, names[i], Style{Regular, l.Size, th.Muted}, AlignRight)
		c.RoundRect(b, b.H/2, th.Line)
		if v := min(settings[i], maxDrawbar); v > 0 {
			full := b
			full.W *= float64(v) / maxDrawbar
			c.RoundRect(full, b.H/2, th.Limb(drawbarLimb[l.Division]))
		}
		c.Text(l.Right()-2, base, itoa(int(settings[i])), Style{SemiBold, l.Size, th.Text}, AlignRight)
	}
}

// titleSize keeps the title no larger than it has room for over the bars.
func titleSize(l *DrawbarLayout) float64 { return math.Min(SizeBody, math.Max(SizeSmall, l.Size)) }
