package paint

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"
)

// Canvas draws logical units onto an image's pixels. It paints inside the
// image's bounds only, so a canvas over a sub-image repaints just that part.
//
// A canvas may be used by one goroutine at a time; several canvases may draw
// at once on images that share no pixels.
type Canvas struct {
	img   *image.RGBA
	scale float64
	x, y  float64

	raster vector.Rasterizer
	mask   image.Alpha
}

// NewCanvas returns a canvas on img at scale pixels to the unit, whose pixel
// (0, 0) shows the logical point (x, y). For a sub-image that is the point
// under the pixel (0, 0) of the whole image.
func NewCanvas(img *image.RGBA, scale, x, y float64) *Canvas {
	return &Canvas{img: img, scale: scale, x: x, y: y}
}

// NewPicture returns a canvas on a fresh image of width by height units
// filled with a colour.
func NewPicture(width, height, scale float64, ground color.NRGBA) *Canvas {
	img := image.NewRGBA(image.Rect(0, 0, int(math.Ceil(width*scale)), int(math.Ceil(height*scale))))
	c := NewCanvas(img, scale, 0, 0)
	c.fillPx(img.Rect, ground)
	return c
}

// Image returns the image the canvas draws on.
func (c *Canvas) Image() *image.RGBA { return c.img }

// Scale returns the pixels to the unit.
func (c *Canvas) Scale() float64 { return c.scale }

// Visible returns the part of the plane that the canvas shows.
func (c *Canvas) Visible() Rect {
	b := c.img.Rect
	return Rect{
		float64(b.Min.X)/c.scale + c.x, float64(b.Min.Y)/c.scale + c.y,
		float64(b.Dx()) / c.scale, float64(b.Dy()) / c.scale,
	}
}

// Shows reports whether any of r would be painted.
func (c *Canvas) Shows(r Rect) bool { return c.Visible().Overlaps(r) }

// Clear fills the whole canvas.
func (c *Canvas) Clear(col color.NRGBA) { c.fillPx(c.img.Rect, col) }

// Wipe makes every pixel transparent.
func (c *Canvas) Wipe() { clear(c.img.Pix) }

// FillRect fills a rectangle aligned to whole pixels.
func (c *Canvas) FillRect(r Rect, col color.NRGBA) { c.fillPx(c.pixels(r), col) }

// HLine draws a horizontal line of a thickness in units, at least one pixel,
// that hangs from y.
func (c *Canvas) HLine(x0, x1, y, thickness float64, col color.NRGBA) {
	c.FillRect(Rect{x0, y, x1 - x0, thickness}, col)
}

// VLine draws a vertical line of a thickness in units, at least one pixel,
// whose left edge is x.
func (c *Canvas) VLine(x, y0, y1, thickness float64, col color.NRGBA) {
	c.FillRect(Rect{x, y0, thickness, y1 - y0}, col)
}

// pixels returns the pixel rectangle of r: edges to the nearest pixel, at
// least one pixel in each direction that has a size. Rectangles that share an
// edge share it in pixels too.
func (c *Canvas) pixels(r Rect) image.Rectangle {
	p := image.Rect(c.px(r.X, c.x), c.px(r.Y, c.y), c.px(r.Right(), c.x), c.px(r.Bottom(), c.y))
	if p.Dx() == 0 && r.W > 0 {
		p.Max.X++
	}
	if p.Dy() == 0 && r.H > 0 {
		p.Max.Y++
	}
	return p
}

func (c *Canvas) px(v, origin float64) int { return int(math.Floor((v-origin)*c.scale + 0.5)) }

// fillPx fills pixels, blending when the colour is not opaque.
func (c *Canvas) fillPx(r image.Rectangle, col color.NRGBA) {
	r = r.Intersect(c.img.Rect)
	if r.Empty() || col.A == 0 {
		return
	}
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := c.row(r.Min.X, r.Max.X, y)
		if col.A == 255 {
			fillOpaque(row, col)
		} else {
			blendRow(row, col, uint32(col.A))
		}
	}
}

// row returns the bytes of the pixels from x0 to x1 on line y, which must lie
// inside the image.
func (c *Canvas) row(x0, x1, y int) []uint8 {
	i := c.img.PixOffset(x0, y)
	return c.img.Pix[i : i+4*(x1-x0) : i+4*(x1-x0)]
}

// fillOpaque writes one colour to a row of pixels by doubling what is written.
func fillOpaque(row []uint8, col color.NRGBA) {
	if len(row) < 4 {
		return
	}
	row[0], row[1], row[2], row[3] = col.R, col.G, col.B, 255
	for n := 4; n < len(row); n *= 2 {
		copy(row[n:], row[:n])
	}
}

func blendRow(row []uint8, col color.NRGBA, a uint32) {
	for i := 0; i+4 <= len(row); i += 4 {
		blend(row[i:i+4:i+4], col, a)
	}
}

// blend lays col with opacity a (0 to 255, col's own alpha not counted) over
// one premultiplied pixel.
func blend(p []uint8, col color.NRGBA, a uint32) {
	if a == 0 {
		return
	}
	rest := 255 - a
	p[0] = uint8((uint32(col.R)*a + uint32(p[0])*rest + 127) / 255)
	p[1] = uint8((uint32(col.G)*a + uint32(p[1])*rest + 127) / 255)
	p[2] = uint8((uint32(col.B)*a + uint32(p[2])*rest + 127) / 255)
	p[3] = uint8(a + (uint32(p[3])*rest+127)/255)
}

// plot blends one pixel at a coverage from 0 to 1 if it lies on the canvas.
func (c *Canvas) plot(x, y int, col color.NRGBA, coverage float64) {
	if coverage <= 0 || !(image.Point{x, y}).In(c.img.Rect) {
		return
	}
	i := c.img.PixOffset(x, y)
	blend(c.img.Pix[i:i+4:i+4], col, uint32(float64(col.A)*math.Min(coverage, 1)+0.5))
}
