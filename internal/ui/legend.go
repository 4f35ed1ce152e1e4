package ui

import (
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/ui/paint"
)

// The size of the legend, which stands in the head line.
const legendWidth, legendRow = 392, 20

// paintLegend says which limb wears which colour, pattern and letter.
func (c *consoleView) paintLegend(cv *paint.Canvas) {
	th := c.w.look.colours()
	cv.Clear(th.Panel)
	x := float64(legendWidth)
	for i, letter := range slices.Backward([]string{"R", "L", "LF", "RF"}) {
		limb := arrange.Limb(i)
		x -= paint.TextWidth(limb.String(), paint.Regular, paint.SizeSmall)
		cv.Text(x, 14, limb.String(), paint.Style{Font: paint.Regular, Size: paint.SizeSmall, Color: th.Muted}, paint.AlignLeft)
		x -= paint.TextWidth(letter, paint.SemiBold, paint.SizeSmall) + 5
		cv.Text(x, 14, letter, paint.Style{Font: paint.SemiBold, Size: paint.SizeSmall, Color: th.Text}, paint.AlignLeft)
		x -= 20
		cv.Limb(paint.Rect{X: x, Y: 3, W: 14, H: 14}, limb, 3, th)
		x -= 16
	}
}
