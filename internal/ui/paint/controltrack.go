package paint

import (
	"image/color"
	"math"
)

// paintAmount draws a track that is filled to a part, with a stroke at its end
// so that the place is seen also at none.
func paintAmount(c *Canvas, t Rect, r ControlRow, th *Theme, mark color.NRGBA) {
	c.RoundRect(t, t.H/2, th.Line)
	x := t.X + t.W*math.Max(0, math.Min(1, r.Part))
	if w := x - t.X; w > 0 {
		c.RoundRect(Rect{t.X, t.Y, math.Max(w, t.H), t.H}, t.H/2, mark)
	}
	c.RoundRect(Rect{x - 1.5, t.Y - 2.5, 3, t.H + 5}, 1.5, mark)
}

// paintChoice draws a track in pieces, the chosen one filled.
func paintChoice(c *Canvas, t Rect, r ControlRow, th *Theme, mark color.NRGBA) {
	const between = 2.0
	n := float64(r.Choices)
	w := (t.W - between*(n-1)) / n
	chosen := int(math.Round(r.Part * (n - 1)))
	for i := range r.Choices {
		piece := Rect{t.X + float64(i)*(w+between), t.Y, w, t.H}
		if i == chosen {
			c.RoundRect(Rect{piece.X, piece.Y - 1.5, piece.W, piece.H + 3}, 2, mark)
		} else {
			c.RoundRect(piece, 2, th.Line)
		}
	}
}
