package paint

import (
	"image"
	"testing"
)

// TestStrainLineRisesWithTheLoad paints one bar at rest, at half and near the
// limit, and looks for the line in the gap over the lanes.
func TestStrainLineRisesWithTheLoad(t *testing.T) {
	l := LayoutGrid(demo(), GridOptions{Width: 900})
	top := func(v float64) int {
		l.strain = make([]float64, len(l.Bars))
		l.strain[1] = v
		s := &l.Systems[l.Bars[1].System]
		img := image.NewRGBA(image.Rect(0, 0, 900, int(l.TotalHeight)+1))
		c := NewCanvas(img, 1, 0, 0)
		p := gridPainter{c, l, Dark(), &GridState{}}
		p.strain(s)
		x := int(l.Bars[1].CentreX())
		for y := int(s.Lanes.Y - lanesGap); y <= int(s.Lanes.Y); y++ {
			if img.RGBAAt(x, y).A > 0 {
				return int(s.Lanes.Y) - y
			}
		}
		return 0
	}
	if rest, half, limit := top(0), top(0.4), top(1); half <= rest+2 || limit <= half+2 {
		t.Errorf("the line stands %d, %d and %d over the lanes", rest, half, limit)
	}
}
