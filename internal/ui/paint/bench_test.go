package paint

import (
	"image"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// longDemo repeats the demo's bars, music and spans to 200 bars.
func longDemo() *arrange.Realisation {
	one := demo()
	length := one.Chart.Length() - q
	c := *one.Chart
	r := &arrange.Realisation{Chart: &c}
	c.Bars, c.Melody, c.Changes, c.Pins = nil, nil, nil, nil
	for k := project.Ticks(0); k < 20; k++ {
		shift := k * length
		steps := len(c.Melody)
		c.Bars = append(c.Bars, one.Chart.Bars[1:]...)
		for _, n := range one.Chart.Melody[2:] {
			n.Start += shift - q
			c.Melody = append(c.Melody, n)
		}
		for _, x := range one.Chart.Changes {
			x.Start += shift - q
			c.Changes = append(c.Changes, x)
		}
		for _, n := range one.Notes {
			if n.Start < q {
				continue
			}
			n.Start += shift - q
			if n.Step >= 0 {
				n.Step += steps - 2
			}
			r.Notes = append(r.Notes, n)
		}
		for _, s := range one.Spans {
			s.Start, s.End = max(0, s.Start-q)+shift, s.End-q+shift
			r.Spans = append(r.Spans, s)
		}
	}
	for _, n := range c.Melody {
		r.Steps = append(r.Steps, arrange.Step{Start: n.Start, Duration: n.Duration, Lead: n.Pitch})
	}
	return r
}

// BenchmarkPaintGrid paints what a window shows of a 200-bar chart.
func BenchmarkPaintGrid(b *testing.B) {
	l := LayoutGrid(longDemo(), GridOptions{Width: 1000})
	for _, c := range []struct {
		name  string
		scale float64
	}{{"1x", 1}, {"2x", 2}} {
		b.Run(c.name, func(b *testing.B) {
			img := image.NewRGBA(image.Rect(0, 0, int(1000*c.scale), int(430*c.scale)))
			b.ReportAllocs()
			for i := 0; i < b.N; i++ {
				PaintGrid(NewCanvas(img, c.scale, 0, l.TotalHeight/2), l, Dark(), nil)
			}
		})
	}
}

// BenchmarkLayoutGrid lays out a 200-bar chart and places what three of its
// systems show, as every edit does.
func BenchmarkLayoutGrid(b *testing.B) {
	r := longDemo()
	b.ReportAllocs()
	for i := 0; i < b.N; i++ {
		l := LayoutGrid(r, GridOptions{Width: 1000})
		for k := range 3 {
			l.placed(len(l.Systems)/2 + k)
		}
	}
}

func TestLongDemoHas200Bars(t *testing.T) {
	r := longDemo()
	if n := len(r.Chart.Bars); n != 200 {
		t.Fatalf("%d bars", n)
	}
	if last := r.Spans[len(r.Spans)-1].End; last != r.Chart.Length() {
		t.Fatalf("spans end at %d of %d", last, r.Chart.Length())
	}
}
