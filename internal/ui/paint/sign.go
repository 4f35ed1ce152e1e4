package paint

import "math"

// Signs that buttons show beside or instead of words, and that the text family
// lacks; each is as wide as it says, over the size of the type.
var signWidths = map[rune]float64{'▾': 0.62, '▴': 0.62, '▸': 0.5, '◂': 0.5, '▏': 0.2, '☰': 0.95, '↻': 0.9}

// LabelWidth returns the width in units of a text that may hold signs.
func LabelWidth(s string, f Font, size float64) float64 {
	width := 0.0
	forParts(s, func(text string, sign rune) { width += partWidth(text, sign, f, size) })
	return width
}

// Label draws a text that may hold signs in the middle of a rectangle.
func (c *Canvas) Label(r Rect, s string, st Style) {
	x := r.CentreX() - LabelWidth(s, st.Font, st.Size)/2
	base := r.CentreY() + st.Size*capHeight/2
	forParts(s, func(text string, sign rune) {
		width := partWidth(text, sign, st.Font, st.Size)
		if sign == 0 {
			c.Text(x, base, text, st, AlignLeft)
		} else {
			c.sign(sign, Rect{x, r.CentreY() - st.Size/2, width, st.Size}, st)
		}
		x += width
	})
}

// forParts visits the runs of plain text and the signs of s in order.
func forParts(s string, visit func(text string, sign rune)) {
	from := 0
	for i, r := range s {
		if signWidths[r] == 0 {
			continue
		}
		if i > from {
			visit(s[from:i], 0)
		}
		visit("", r)
		from = i + len(string(r))
	}
	if from < len(s) {
		visit(s[from:], 0)
	}
}

func partWidth(text string, sign rune, f Font, size float64) float64 {
	if sign == 0 {
		return textWidth(f, size, text)
	}
	return signWidths[sign] * size
}

// sign draws one sign in its box.
func (c *Canvas) sign(sign rune, box Rect, st Style) {
	x, y, s := box.CentreX(), box.CentreY(), st.Size
	switch sign {
	case '▾':
		c.Polygon([]Point{{x - 0.27*s, y - 0.14*s}, {x + 0.27*s, y - 0.14*s}, {x, y + 0.2*s}}, st.Color)
	case '▴':
		c.Polygon([]Point{{x - 0.27*s, y + 0.14*s}, {x + 0.27*s, y + 0.14*s}, {x, y - 0.2*s}}, st.Color)
	case '▸':
		c.Polygon([]Point{{x - 0.14*s, y - 0.27*s}, {x - 0.14*s, y + 0.27*s}, {x + 0.2*s, y}}, st.Color)
	case '◂':
		c.Polygon([]Point{{x + 0.14*s, y - 0.27*s}, {x + 0.14*s, y + 0.27*s}, {x - 0.2*s, y}}, st.Color)
	case '▏':
		c.FillRect(Rect{x - 0.06*s, y - 0.34*s, 0.12 * s, 0.68 * s}, st.Color)
	case '☰':
		for i := -1.0; i <= 1; i++ {
			c.FillRect(Rect{x - 0.4*s, y + (0.29*i-0.05)*s, 0.8 * s, 0.11 * s}, st.Color)
		}
	case '↻':
		c.turn(x, y, 0.33*s, st)
	}
}

// turn draws three quarters of a circle that end in the point of an arrow.
func (c *Canvas) turn(x, y, radius float64, st Style) {
	const from, to, steps = -0.2 * math.Pi, 1.4 * math.Pi, 24
	half := 0.06 * st.Size
	var out, in []Point
	for i := range steps + 1 {
		a := from + (to-from)*float64(i)/steps
		sin, cos := math.Sincos(a)
		out = append(out, Point{x + (radius+half)*cos, y + (radius+half)*sin})
		in = append([]Point{{x + (radius-half)*cos, y + (radius-half)*sin}}, in...)
	}
	c.Polygon(append(out, in...), st.Color)
	sin, cos := math.Sincos(to)
	tip := 0.2 * st.Size
	px, py := x+radius*cos, y+radius*sin
	c.Polygon([]Point{{px + tip*cos, py + tip*sin}, {px - tip*cos, py - tip*sin}, {px - 1.3*tip*sin, py + 1.3*tip*cos}}, st.Color)
}
