package paint

import (
	"image"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// TestTheMarksOverABarStandClear gives the third of eight bars every mark, and an
// instruction at its end, at many zooms and widths: the passes of the ending, the
// bracket, the changes and the instruction stand one behind the other.
func TestTheMarksOverABarStandClear(t *testing.T) {
	chart := project.New()
	bar := &chart.Bars[2]
	bar.Ending, bar.EndingStart, bar.Fine, bar.Jump = []int{2, 3}, true, true, project.DalSegnoAlCoda
	bar.Meter, bar.Tempo, bar.Segno = project.Meter{Beats: 3, Unit: 4}, 96, true
	for _, width := range []float64{300, 620, 760, 1136, 1500} {
		for zoom := 8.0; zoom < 200; zoom *= 1.3 {
			l := LayoutGrid(&arrange.Realisation{Chart: chart}, GridOptions{Width: width, PerQuarter: zoom})
			b := &l.Bars[2]
			x := b.X + l.marksLead(2)
			words := b.Right() - 5 - endWidth(endText(bar))
			for _, m := range l.placed(b.System).changes {
				if m.bar != 2 {
					continue
				}
				if m.X < x || m.W < changeWidth(m.text)-0.5 {
					t.Errorf("width %g, zoom %g: %q stands at %g, after %g, %g wide", width, zoom, m.text, m.X, x, m.W)
				}
				x = m.Right()
			}
			if words < x || l.bracketEnd(2) > words {
				t.Errorf("width %g, zoom %g: the instruction begins at %g, under what ends at %g and a bracket up to %g", width, zoom, words, x, l.bracketEnd(2))
			}
		}
	}
}

// TestSignsFillTheirRoom paints segno and coda and looks where their ink is.
func TestSignsFillTheirRoom(t *testing.T) {
	for _, sign := range signsAtStart(&project.Bar{Segno: true, Coda: true}) {
		c := NewCanvas(image.NewRGBA(image.Rect(0, 0, 40, 40)), 1, 0, 0)
		(&gridPainter{Canvas: c, th: Dark()}).sign(Rect{10, 12, 16, 14}, sign)
		ink := image.Rectangle{}
		for y := range 40 {
			for x := range 40 {
				if c.img.RGBAAt(x, y).A > 0 {
					ink = ink.Union(image.Rect(x, y, x+1, y+1))
				}
			}
		}
		if ink.Min.Y < 11 || ink.Min.Y > 13 || ink.Max.Y < 25 || ink.Max.Y > 27 || ink.Min.X < 9 || ink.Max.X > 27 {
			t.Errorf("%q is drawn over %v", sign, ink)
		}
	}
}
