package paint

import (
	"fmt"
	"image"
	"math"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Margins of a whole chart's picture, in units.
const (
	pageMargin = 28.0
	pageHead   = 58.0
	pageFoot   = 34.0
)

// maxPicturePixels bounds the memory of a picture: 32 million pixels take
// 128 MB.
const maxPicturePixels = 32 << 20

// GridPicture paints a whole chart as a document: a title, the chart's own or what it
// goes by without one, its facts, every system with the passages named, and a key to
// the signs. Width is in units;
// scale is pixels to the unit and is lowered where the picture would pass
// maxPicturePixels.
func GridPicture(r *arrange.Realisation, title string, th *Theme, width int, scale float64) *image.RGBA {
	w := math.Max(320, float64(width))
	l := LayoutGrid(r, GridOptions{Width: w - 2*pageMargin + gutter/2, Passages: true})
	height := pageHead + l.TotalHeight + pageFoot
	if pixels := w * height * scale * scale; pixels > maxPicturePixels {
		scale *= math.Sqrt(maxPicturePixels / pixels)
	}
	c := NewPicture(w, height, scale, th.Ground)
	paintHead(c, r.Chart, title, w, th)
	paintBody(c, l, th)
	paintKeyToSigns(c, pageHead+l.TotalHeight+8, th)
	return c.img
}

// paintBody paints the grid on the part of the page it covers.
func paintBody(c *Canvas, l *GridLayout, th *Theme) {
	left := pageMargin - gutter/2
	area := c.pixels(Rect{left, pageHead, l.Options.Width, l.TotalHeight})
	part := c.img.SubImage(area).(*image.RGBA)
	PaintGrid(NewCanvas(part, c.scale, -left, -pageHead), l, th, nil)
}

func paintHead(c *Canvas, chart *project.Chart, title string, w float64, th *Theme) {
	left := pageMargin + gutter/2
	room := w - left - pageMargin
	if chart.Composer != "" {
		composer := Shorten(chart.Composer, Regular, SizeBody, room/3)
		c.Text(w-pageMargin, 32, composer, Style{Regular, SizeBody, th.Muted}, AlignRight)
		room -= TextWidth(composer, Regular, SizeBody) + 16
	}
	c.Text(left, 32, Shorten(title, SemiBold, SizeTitle, room), Style{SemiBold, SizeTitle, th.Text}, AlignLeft)
	c.Text(left, 50, Facts(chart), Style{Regular, SizeSmall, th.Muted}, AlignLeft)
}

// Facts returns a chart's key, meter, tempo, swing if there is any, and length in
// one line.
func Facts(chart *project.Chart) string {
	var parts []string
	if chart.Key.IsValid() {
		parts = append(parts, chart.Key.Pretty())
	}
	parts = append(parts, chart.Bars[0].Meter.String())
	parts = append(parts, tempoText(chart.Tempo))
	if Swings(chart) {
		parts = append(parts, fmt.Sprintf("swing %.0f %%", 100*chart.Swing))
	}
	return strings.Join(append(parts, barsText(chart)), " · ")
}

// Swings reports whether the eighths of a chart are played unevenly, to a hundredth
// of the beat.
func Swings(chart *project.Chart) bool { return math.Round(100*chart.Swing) > 50 }

// barsText counts the bars as the page numbers them: a pick-up and the second
// halves of divided bars have no number.
func barsText(chart *project.Chart) string {
	n := 0
	for i := range chart.Bars {
		if !chart.Bars[i].Unnumbered {
			n++
		}
	}
	pickup := n > 0 && chart.Bars[0].Unnumbered
	switch {
	case n == 1 && pickup:
		return "1 bar and a pick-up"
	case n == 1:
		return "1 bar"
	case pickup:
		return itoa(n) + " bars and a pick-up"
	}
	return itoa(n) + " bars"
}

// paintKeyToSigns explains tints, limbs and findings in one line.
func paintKeyToSigns(c *Canvas, y float64, th *Theme) {
	x := pageMargin + gutter/2
	st := Style{Regular, SizeSmall, th.Muted}
	put := func(text string, draw func(r Rect)) {
		draw(Rect{x, y, 18, 9})
		c.Text(x+23, y+8.5, text, st, AlignLeft)
		x += 23 + TextWidth(text, Regular, SizeSmall) + 18
	}
	put("melody", func(r Rect) { c.RoundRect(r, noteRadius, th.Lead) })
	put("home", func(r Rect) { c.FillRect(r, th.HomeRow) })
	put("away", func(r Rect) { c.FillRect(r, th.AwayRow); c.Hatch(r, 6, 1, th.AwayHatch) })
	for limb, letter := range []string{"R", "L", "F", "F"} {
		limb := arrange.Limb(limb)
		put(letter+" "+limb.String(), func(r Rect) { c.Limb(r, limb, noteRadius, th) })
	}
	put("caution", func(r Rect) { c.Triangle(r.CentreX(), r.CentreY(), signRadius, th.Caution) })
	put("unplayable", func(r Rect) { c.Octagon(r.CentreX(), r.CentreY(), signRadius, th.Unplayable) })
}
