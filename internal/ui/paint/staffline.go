package paint

import (
	"image/color"
	"math"

	"organbook/internal/theory"
)

// LineBlock is one of several blocks on a small staff.
type LineBlock struct {
	Voices []theory.Pitch
	// Faint blocks are drawn as a background to the others.
	Faint bool
}

// lineSpace is the widest that the lines of a staff with several blocks stand
// apart: room across is worth more there than size.
const lineSpace = 6

// PaintBlockLine paints blocks side by side on a small staff, or on two when
// they reach far below middle C, and returns how many had room.
func PaintBlockLine(c *Canvas, r Rect, line []LineBlock, th *Theme) (shown int) {
	cut := trebleBottom - 2 // middle C: lower notes go to the lower staff
	if !needsTwoStaves(line) {
		cut = math.MinInt
	}
	upper, lower := staffPainter{Canvas: c, th: th, bottom: trebleBottom}, staffPainter{Canvas: c, th: th, bottom: bassBottom}
	low, high := lineBounds(&upper, line, cut)
	if cut != math.MinInt {
		low2, _ := lineBounds(&lower, line, cut)
		low = low2 - 2*staffGap
	}
	h := min(r.H, lineSpace*float64(high-low)/2)
	upper.fit(Rect{r.X, r.Y + (r.H-h)/2, r.W, h}, low, high, clefRoom+headRoom)
	upper.paint(r, trebleClef)
	if cut != math.MinInt {
		lower.space, lower.y = upper.space, upper.y+staffGap*upper.space
		lower.paint(r, bassClef)
		c.VLine(r.X, upper.at(8)-0.5, lower.at(0)+0.5, 1, th.Muted)
	}
	x := r.X + 4.6*upper.space
	for _, b := range line {
		width := lineRoom(&upper, &lower, b, cut)
		if x+width > r.Right() {
			return shown
		}
		x += width
		drawLineBlock(&upper, &lower, b, cut, x-2.2*upper.space)
		shown++
	}
	return shown
}

// needsTwoStaves reports whether the blocks reach far below the upper staff.
func needsTwoStaves(line []LineBlock) bool {
	for _, b := range line {
		if outside(validSorted(b.Voices), trebleBottom) >= grandFrom {
			return true
		}
	}
	return false
}

// part gives a staff the notes of a block that stand on it.
func (p *staffPainter) part(b LineBlock, cut int) {
	p.notes = nil
	for _, n := range validSorted(b.Voices) {
		if (n.Diatonic() >= cut) == (p.bottom == trebleBottom) {
			p.notes = append(p.notes, n)
		}
	}
	p.ink = p.th.Text
	if b.Faint {
		p.ink = p.th.Muted
	}
}

// lineBounds returns the lowest and highest place that the blocks reach on a
// staff.
func lineBounds(p *staffPainter, line []LineBlock, cut int) (low, high int) {
	low, high = p.bounds()
	for _, b := range line {
		p.part(b, cut)
		l, h := p.bounds()
		low, high = min(low, l), max(high, h)
	}
	p.notes, p.ink = nil, color.NRGBA{}
	return low, high
}

// lineRoom returns the width that a block takes with its accidentals.
func lineRoom(upper, lower *staffPainter, b LineBlock, cut int) float64 {
	most := 0.0
	for _, p := range []*staffPainter{upper, lower} {
		p.part(b, cut)
		most = max(most, p.columns().room())
	}
	return (3.2 + most) * upper.space
}

func drawLineBlock(upper, lower *staffPainter, b LineBlock, cut int, x float64) {
	for _, p := range []*staffPainter{upper, lower} {
		if p.part(b, cut); len(p.notes) > 0 {
			p.blockAt(x, p.columns())
			p.remember()
		}
	}
}
