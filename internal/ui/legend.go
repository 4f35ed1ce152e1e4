package ui

import (
	"math"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/ui/paint"
)

// legendRow is the height of the legend, which stands in the head line.
const legendRow = 20

// legendLetters are the letters of the limbs, as the keys wear them.
var legendLetters = [...]string{"R", "L", "LF", "RF"}

// The room of a limb in the legend: a square, its letter and its name, and what
// lies between them.
const legendSquare, legendGap, letterGap = 20, 16, 5

// limbLetters are the letters of the limbs that the console has keys for: feet
// have none on one without pedals.
func (c *consoleView) limbLetters() []string {
	if !c.w.session.HasPedals() {
		return legendLetters[:arrange.LeftFoot]
	}
	return legendLetters[:]
}

// legendWidth is what the limbs take in the language in force, by their letters
// alone or with their names.
func (c *consoleView) legendWidth(letters bool) float32 {
	w := 0.0
	for i, letter := range c.limbLetters() {
		w += legendSquare + legendGap + paint.TextWidth(letter, paint.SemiBold, paint.SizeSmall)
		if !letters {
			w += letterGap + paint.TextWidth(tr(arrange.Limb(i).String()), paint.Regular, paint.SizeSmall)
		}
	}
	return float32(math.Ceil(w))
}

// paintLegend says which limb wears which colour, pattern and letter.
func (c *consoleView) paintLegend(cv *paint.Canvas) {
	th := c.w.look.colours()
	cv.Clear(th.Panel)
	x := float64(c.legendWidth(c.letters))
	for i, letter := range slices.Backward(c.limbLetters()) {
		limb := arrange.Limb(i)
		if !c.letters {
			name := tr(limb.String())
			x -= paint.TextWidth(name, paint.Regular, paint.SizeSmall)
			cv.Text(x, 14, name, paint.Style{Font: paint.Regular, Size: paint.SizeSmall, Color: th.Muted}, paint.AlignLeft)
			x -= letterGap
		}
		x -= paint.TextWidth(letter, paint.SemiBold, paint.SizeSmall)
		cv.Text(x, 14, letter, paint.Style{Font: paint.SemiBold, Size: paint.SizeSmall, Color: th.Text}, paint.AlignLeft)
		x -= legendSquare
		cv.Limb(paint.Rect{X: x, Y: 3, W: 14, H: 14}, limb, 3, th)
		x -= legendGap
	}
}
