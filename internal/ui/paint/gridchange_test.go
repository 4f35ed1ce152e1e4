package paint

import (
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// changingChart is a chart of 24 bars with changes of meter, key and tempo,
// alone, together, next to each other and beside other marks.
func changingChart(t *testing.T) *project.Chart {
	t.Helper()
	c := project.New()
	c.Bars = make([]project.Bar, 24)
	for i := range c.Bars {
		meter := project.CommonTime
		switch {
		case i == 4, i == 6:
			meter = project.Meter{Beats: 2, Unit: 4}
		case i >= 12:
			meter = project.Meter{Beats: 12, Unit: 8}
		}
		c.Bars[i] = project.NewBar(meter)
	}
	c.Bars[8].Key = theory.MustParseKey("Bb minor")
	c.Bars[9].Key = theory.MustParseKey("Bb minor") // the same again is no change
	c.Bars[12].Key, c.Bars[12].Tempo, c.Bars[12].Section = theory.MustParseKey("G"), 92.5, "Bridge"
	c.Bars[13].Tempo, c.Bars[14].Tempo = 140, 140 // the second is no change
	c.Bars[16].Segno, c.Bars[16].Tempo = true, 150
	return c
}

// TestChangesStandAtTheirBars places changes at every zoom and in narrow and
// wide windows: each begins at its bar and ends before the next mark, whole.
func TestChangesStandAtTheirBars(t *testing.T) {
	r := arrange.Realise(changingChart(t), arrange.Options{})
	want := "5 2/4 | 6 4/4 | 7 2/4 | 8 4/4 | 9 B♭ minor | 13 12/8 | 13 G major | 13 ♩ = 92.5 | 14 ♩ = 140 | 17 ♩ = 150"
	for _, width := range []float64{260, 520, 1000, 2400} {
		for _, quarter := range []float64{20, 40, DefaultPerQuarter, 160} {
			l := LayoutGrid(r, GridOptions{Width: width, PerQuarter: quarter})
			var got []string
			for k := range l.Systems {
				s := l.placed(k)
				for i, m := range s.changes {
					got = append(got, itoa(m.bar+1)+" "+m.text)
					if m.W < changeWidth(m.text)-0.01 {
						t.Errorf("width %v, quarter %v: %q of bar %d has %.0f of %.0f units", width, quarter, m.text, m.bar+1, m.W, changeWidth(m.text))
					}
					if m.X < l.Bars[m.bar].X || m.Right() > s.Marks.Right() {
						t.Errorf("width %v, quarter %v: %q leaves its system", width, quarter, m.text)
					}
					if i > 0 && m.X < s.changes[i-1].Right() {
						t.Errorf("width %v, quarter %v: %q lies over %q", width, quarter, m.text, s.changes[i-1].text)
					}
					if h := l.Hit(m.X+m.W/2, m.CentreY()); h.Kind != HitChange || h.Bar != m.bar || h.Index != m.kind {
						t.Errorf("under %q lies %+v", m.text, h)
					}
				}
			}
			if text := strings.Join(got, " | "); text != want {
				t.Errorf("width %v, quarter %v:\n%s, want\n%s", width, quarter, text, want)
			}
		}
	}
}
