package paint

import (
	"image"
	"image/color"
	"image/draw"
	"math"
)

// RoundRect fills a rectangle with rounded corners; its edges fall on whole
// pixels and its corners are smoothed.
func (c *Canvas) RoundRect(r Rect, radius float64, col color.NRGBA) {
	p := c.pixels(r)
	if !p.Overlaps(c.img.Rect) {
		return
	}
	rp := c.cornerRadius(p, radius)
	n := int(math.Ceil(rp))
	c.fillPx(image.Rect(p.Min.X+n, p.Min.Y, p.Max.X-n, p.Min.Y+n), col)
	c.fillPx(image.Rect(p.Min.X, p.Min.Y+n, p.Max.X, p.Max.Y-n), col)
	c.fillPx(image.Rect(p.Min.X+n, p.Max.Y-n, p.Max.X-n, p.Max.Y), col)
	c.corners(p, n, func(dx, dy float64) float64 { return rp - math.Hypot(rp-dx, rp-dy) + 0.5 }, col)
}

// StrokeRound draws the outline of a rounded rectangle; the line lies inside
// the rectangle's edge.
func (c *Canvas) StrokeRound(r Rect, radius, thickness float64, col color.NRGBA) {
	p := c.pixels(r)
	if !p.Overlaps(c.img.Rect) {
		return
	}
	t := max(1, int(thickness*c.scale+0.5))
	rp := c.cornerRadius(p, radius)
	n := max(int(math.Ceil(rp)), t)
	c.fillPx(image.Rect(p.Min.X+n, p.Min.Y, p.Max.X-n, p.Min.Y+t), col)
	c.fillPx(image.Rect(p.Min.X+n, p.Max.Y-t, p.Max.X-n, p.Max.Y), col)
	c.fillPx(image.Rect(p.Min.X, p.Min.Y+n, p.Min.X+t, p.Max.Y-n), col)
	c.fillPx(image.Rect(p.Max.X-t, p.Min.Y+n, p.Max.X, p.Max.Y-n), col)
	c.corners(p, n, func(dx, dy float64) float64 { return ring(dx, dy, rp, float64(t)) }, col)
}

// ring returns the coverage of a pixel near a corner, dx and dy in from it, by
// a line of thickness t along a corner of radius r.
func ring(dx, dy, r, t float64) float64 {
	if dx >= r || dy >= r { // beyond the arc the edge is straight
		return clamp01(t - math.Min(dx, dy) + 0.5)
	}
	d := math.Hypot(r-dx, r-dy)
	return clamp01(r-d+0.5) - clamp01(r-t-d+0.5)
}

// cornerRadius returns a radius in pixels that fits the rectangle.
func (c *Canvas) cornerRadius(p image.Rectangle, radius float64) float64 {
	return math.Min(radius*c.scale, float64(min(p.Dx(), p.Dy()))/2)
}

// corners plots the four n by n corners of p; coverage is told how far the
// pixel's centre is from the two edges.
func (c *Canvas) corners(p image.Rectangle, n int, coverage func(dx, dy float64) float64, col color.NRGBA) {
	for j := 0; j < n; j++ {
		for i := 0; i < n; i++ {
			v := coverage(float64(i)+0.5, float64(j)+0.5)
			right, bottom := p.Max.X-1-i, p.Max.Y-1-j
			c.plot(p.Min.X+i, p.Min.Y+j, col, v)
			if right >= p.Min.X+n {
				c.plot(right, p.Min.Y+j, col, v)
			}
			if bottom >= p.Min.Y+n {
				c.plot(p.Min.X+i, bottom, col, v)
			}
			if right >= p.Min.X+n && bottom >= p.Min.Y+n {
				c.plot(right, bottom, col, v)
			}
		}
	}
}

func clamp01(v float64) float64 { return math.Max(0, math.Min(1, v)) }

// Point is a place in logical units.
type Point struct{ X, Y float64 }

// Polygon fills a closed polygon with smooth edges.
func (c *Canvas) Polygon(points []Point, col color.NRGBA) {
	if len(points) < 3 {
		return
	}
	bounds := c.boundsOf(points)
	if !bounds.Overlaps(c.img.Rect) {
		return
	}
	c.raster.Reset(bounds.Dx(), bounds.Dy())
	at := func(p Point) (float32, float32) {
		return float32((p.X-c.x)*c.scale) - float32(bounds.Min.X), float32((p.Y-c.y)*c.scale) - float32(bounds.Min.Y)
	}
	c.raster.MoveTo(at(points[0]))
	for _, p := range points[1:] {
		c.raster.LineTo(at(p))
	}
	c.raster.ClosePath()
	c.drawRaster(bounds.Min, col)
}

func (c *Canvas) boundsOf(points []Point) image.Rectangle {
	r := Rect{points[0].X, points[0].Y, 0, 0}
	x1, y1 := r.X, r.Y
	for _, p := range points[1:] {
		r.X, r.Y = math.Min(r.X, p.X), math.Min(r.Y, p.Y)
		x1, y1 = math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	return image.Rect(
		int(math.Floor((r.X-c.x)*c.scale)), int(math.Floor((r.Y-c.y)*c.scale)),
		int(math.Ceil((x1-c.x)*c.scale)), int(math.Ceil((y1-c.y)*c.scale)))
}

// drawRaster lays what the rasterizer holds over the image at a pixel.
func (c *Canvas) drawRaster(at image.Point, col color.NRGBA) {
	size := c.raster.Size()
	if need := size.X * size.Y; cap(c.mask.Pix) < need {
		c.mask.Pix = make([]uint8, need)
	}
	c.mask.Pix, c.mask.Stride = c.mask.Pix[:size.X*size.Y], size.X
	c.mask.Rect = image.Rectangle{Max: size}
	c.raster.DrawOp = draw.Src
	c.raster.Draw(&c.mask, c.mask.Rect, image.Opaque, image.Point{})
	c.blendMask(c.mask.Pix, size.X, size.Y, at, col)
}

// blendMask lays a colour over the image through a mask whose first pixel
// lies at a point.
func (c *Canvas) blendMask(mask []uint8, w, h int, at image.Point, col color.NRGBA) {
	r := image.Rect(at.X, at.Y, at.X+w, at.Y+h).Intersect(c.img.Rect)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := c.row(r.Min.X, r.Max.X, y)
		line := mask[(y-at.Y)*w+r.Min.X-at.X:]
		for i := 0; i < r.Dx(); i++ {
			if m := line[i]; m != 0 {
				blend(row[4*i:4*i+4:4*i+4], col, (uint32(m)*uint32(col.A)+127)/255)
			}
		}
	}
}

// Disc fills a circle.
func (c *Canvas) Disc(x, y, radius float64, col color.NRGBA) {
	c.Polygon(regular(x, y, radius, max(12, int(radius*c.scale*2)), 0), col)
}

// Ring draws a circle's line, which lies inside the radius.
func (c *Canvas) Ring(x, y, radius, thickness float64, col color.NRGBA) {
	px, py := (x-c.x)*c.scale, (y-c.y)*c.scale
	r, t := radius*c.scale, math.Max(1, thickness*c.scale)
	for j := int(py - r - 1); j <= int(py+r+1); j++ {
		for i := int(px - r - 1); i <= int(px+r+1); i++ {
			d := math.Hypot(float64(i)+0.5-px, float64(j)+0.5-py)
			c.plot(i, j, col, clamp01(r-d+0.5)-clamp01(r-t-d+0.5))
		}
	}
}

// Triangle fills the sign of a caution: a triangle on its base that fits a
// circle of the radius.
func (c *Canvas) Triangle(x, y, radius float64, col color.NRGBA) {
	c.Polygon(regular(x, y+radius*0.18, radius*1.12, 3, -math.Pi/2), col)
}

// Octagon fills the sign of something unplayable.
func (c *Canvas) Octagon(x, y, radius float64, col color.NRGBA) {
	c.Polygon(regular(x, y, radius, 8, math.Pi/8), col)
}

// Diamond fills the sign of something demanding.
func (c *Canvas) Diamond(x, y, radius float64, col color.NRGBA) {
	c.Polygon(regular(x, y, radius*1.12, 4, -math.Pi/2), col)
}

// regular returns a regular polygon of n corners around a point, the first at
// an angle in radians.
func regular(x, y, radius float64, n int, turn float64) []Point {
	out := make([]Point, n)
	for i := range out {
		a := turn + 2*math.Pi*float64(i)/float64(n)
		out[i] = Point{x + radius*math.Cos(a), y + radius*math.Sin(a)}
	}
	return out
}
