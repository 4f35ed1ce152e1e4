package paint

import "math"

// Rect is a rectangle in logical units, Y downward. The zero value is empty.
type Rect struct {
	X, Y, W, H float64
}

// Right returns the x just past the rectangle.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom returns the y just below the rectangle.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// CentreX returns the x of the middle.
func (r Rect) CentreX() float64 { return r.X + r.W/2 }

// CentreY returns the y of the middle.
func (r Rect) CentreY() float64 { return r.Y + r.H/2 }

// Empty reports whether the rectangle has no area.
func (r Rect) Empty() bool { return r.W <= 0 || r.H <= 0 }

// Contains reports whether the point lies inside; the right and bottom edges
// do not belong to the rectangle.
func (r Rect) Contains(x, y float64) bool {
	return x >= r.X && x < r.Right() && y >= r.Y && y < r.Bottom()
}

// Overlaps reports whether the two share area.
func (r Rect) Overlaps(o Rect) bool {
	return r.X < o.Right() && o.X < r.Right() && r.Y < o.Bottom() && o.Y < r.Bottom()
}

// Inset returns the rectangle with each side moved inward by d (outward when
// negative).
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Union returns the smallest rectangle that holds both; an empty one adds
// nothing.
func (r Rect) Union(o Rect) Rect {
	if r.Empty() {
		return o
	}
	if o.Empty() {
		return r
	}
	x, y := math.Min(r.X, o.X), math.Min(r.Y, o.Y)
	return Rect{x, y, math.Max(r.Right(), o.Right()) - x, math.Max(r.Bottom(), o.Bottom()) - y}
}
