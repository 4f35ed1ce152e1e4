package paint

import (
	"image"
	"image/color"
	"math"
)

// Patterns tell things apart without colour: away rows are hatched, the left
// hand is striped, the feet are dotted. They are anchored to the plane and not
// to the shape, so that neighbouring pieces and separately painted tiles join.

// Hatch draws diagonal lines, rising to the right, over a rectangle. Spacing
// is the horizontal distance between lines, thickness their width, in units.
func (c *Canvas) Hatch(r Rect, spacing, thickness float64, col color.NRGBA) {
	p := c.pixels(r).Intersect(c.img.Rect)
	if p.Empty() {
		return
	}
	period := max(2, int(math.Round(spacing*c.scale)))
	opacity := hatchTable(period, math.Max(1, thickness*c.scale), col.A)
	// The phase of the plane's origin, so that x+y counts from there.
	phase := c.px(0, c.x) + c.px(0, c.y)
	for y := p.Min.Y; y < p.Max.Y; y++ {
		row := c.row(p.Min.X, p.Max.X, y)
		k := mod(p.Min.X+y-phase, period)
		for i := 0; i < len(row); i += 4 {
			if a := opacity[k]; a != 0 {
				blend(row[i:i+4:i+4], col, a)
			}
			if k++; k == period {
				k = 0
			}
		}
	}
}

// hatchTable returns the opacity across one period of a hatch.
func hatchTable(period int, thickness float64, alpha uint8) []uint32 {
	out := make([]uint32, period)
	for i := range out {
		out[i] = uint32(clamp01(thickness-float64(i)) * float64(alpha))
	}
	return out
}

// Stripes draws horizontal lines over a rectangle: n lines of one pixel a unit
// spread evenly over its height.
func (c *Canvas) Stripes(r Rect, n int, thickness float64, col color.NRGBA) {
	p := c.pixels(r)
	t := max(1, int(thickness*c.scale+0.5))
	gap := float64(p.Dy()-n*t) / float64(n+1)
	for i := 0; i < n; i++ {
		y := p.Min.Y + int(math.Round(gap*float64(i+1))) + i*t
		c.fillPx(image.Rect(p.Min.X, y, p.Max.X, y+t), col)
	}
}

// Dots draws round dots of a diameter in staggered rows over a rectangle;
// spacing is the distance between columns.
func (c *Canvas) Dots(r Rect, spacing, diameter float64, col color.NRGBA) {
	p := c.pixels(r)
	step := math.Max(2, math.Round(spacing*c.scale))
	d := math.Max(1, math.Round(diameter*c.scale))
	rows := max(1, int(float64(p.Dy())/step*1.5))
	gap := (float64(p.Dy()) - float64(rows)*d) / float64(rows+1)
	for j := 0; j < rows; j++ {
		y := p.Min.Y + int(math.Round(gap*float64(j+1)+d*float64(j)))
		first := step * float64(j%2) / 2
		for x := float64(p.Min.X) + step/2 + first - d/2; x+d <= float64(p.Max.X); x += step {
			c.dot(int(x), y, int(d), col)
		}
	}
}

// dot fills a dot of d pixels; below four pixels that is a square.
func (c *Canvas) dot(x, y, d int, col color.NRGBA) {
	if d < 4 {
		c.fillPx(image.Rect(x, y, x+d, y+d), col)
		return
	}
	r := float64(d) / 2
	for j := 0; j < d; j++ {
		for i := 0; i < d; i++ {
			c.plot(x+i, y+j, col, r-math.Hypot(float64(i)+0.5-r, float64(j)+0.5-r)+0.5)
		}
	}
}

func mod(a, n int) int { return ((a % n) + n) % n }
