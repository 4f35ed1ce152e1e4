package paint

import (
	"image"
	"image/color"
	"math"
)

// Font is one of the faces.
type Font uint8

// The faces: two weights of the text family, and the signs of notation.
const (
	Regular Font = iota
	SemiBold
	Music
)

// Align says which part of a text stands at its place.
type Align uint8

// The alignments.
const (
	AlignLeft Align = iota
	AlignCentre
	AlignRight
)

// Type sizes in units.
const (
	SizeTitle = 20.0
	SizeHead  = 15.0
	SizeBody  = 13.0
	SizeSmall = 11.0
)

// capHeight is the height of a capital of the text family over its size,
// measured on the embedded font.
const capHeight = 0.727

// Style is how a text looks.
type Style struct {
	Font  Font
	Size  float64
	Color color.NRGBA
}

// Text draws s with its base line at y, aligned on x.
func (c *Canvas) Text(x, y float64, s string, st Style, align Align) {
	size := st.Size * c.scale
	px, py := (x-c.x)*c.scale, math.Round((y-c.y)*c.scale)
	if align != AlignLeft {
		px -= float64(align) / 2 * textWidth(st.Font, size, s)
	}
	if py < float64(c.img.Rect.Min.Y)-size || py > float64(c.img.Rect.Max.Y)+2*size {
		return
	}
	drawText(s, st.Font, size, px, func(m *glyphMask, gx int) {
		c.blendMask(m.pix, m.w, m.h, image.Point{gx + m.dx, int(py) + m.dy}, st.Color)
	})
}

// TextIn draws s inside a rectangle, its capitals centred on the height, and
// shortens it with an ellipsis when it is too wide. A rectangle too narrow for
// one letter stays empty.
func (c *Canvas) TextIn(r Rect, s string, st Style, align Align) {
	s = Shorten(s, st.Font, st.Size, r.W)
	if s == "" {
		return
	}
	x := r.X + r.W*float64(align)/2
	c.Text(x, r.CentreY()+st.Size*capHeight/2, s, st, align)
}

// TextWidth returns the width of s in units at a size in units.
func TextWidth(s string, f Font, size float64) float64 { return textWidth(f, size, s) }

// Shorten returns s, or its longest beginning with an ellipsis that fits the
// width; the empty string when not even one letter fits.
func Shorten(s string, f Font, size, width float64) string {
	if textWidth(f, size, s) <= width {
		return s
	}
	runes := []rune(s)
	// The smallest cut that is too wide; the one before it fits.
	lo, hi := 0, len(runes)
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if textWidth(f, size, string(runes[:mid])+"…") <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	if lo == 0 {
		return ""
	}
	return string(runes[:lo]) + "…"
}
