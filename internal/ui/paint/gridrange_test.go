package paint

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestKeptRowsOpenOutwards lays a chart out with the rows of another: every system
// keeps its own, has all that its music needs, and gets others only where the music
// goes beyond them.
func TestKeptRowsOpenOutwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, o := drawRealisation(t), drawOptions(t)
		fresh := LayoutGrid(r, o)
		for _, s := range fresh.RowRanges() {
			low := rapid.IntRange(30, 70).Draw(t, "low")
			o.Keep = append(o.Keep, RowRange{s.Bar, low, low + rapid.IntRange(10, 50).Draw(t, "rows")})
		}
		o.Tight = rapid.Bool().Draw(t, "tight")
		l := LayoutGrid(r, o)
		checkSystems(t, l)
		if !o.Tight { // a note is taller than its row and comes over the edge
			checkNotes(t, l)
		}
		for k, kept := range o.Keep {
			s := &l.Systems[k]
			low, high := 128, -1
			for _, m := range l.placed(k).leads {
				low, high = min(low, l.leadKey(m.note)), max(high, l.leadKey(m.note))
			}
			for i := range r.Notes {
				if n := &r.Notes[i]; s.touches(n.Start, n.Start+n.Duration) {
					low = min(low, l.shownKey(n))
				}
			}
			if s.Low > kept.Low || s.High < kept.High || s.Low > low || s.High < high && high >= 0 {
				t.Fatalf("system %d keeps %+v, has music from %d to %d, and rows from %d to %d", k, kept, low, high, s.Low, s.High)
			}
			if o.Tight && kept.Low <= low && s.Low != kept.Low {
				t.Fatalf("system %d has its lowest music at %d and got rows from %d in place of %d", k, low, s.Low, kept.Low)
			}
		}
	})
}

// TestSpotsComeBack turns heights into what stands there and back.
func TestSpotsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := LayoutGrid(drawRealisation(t), drawOptions(t))
		y, beyond := rapid.Float64Range(-50, l.TotalHeight+50).Draw(t, "y"), rapid.Bool().Draw(t, "beyond")
		p := l.SpotAt(y, beyond)
		if got := l.SpotY(p); got < y-1e-6 || got > y+1e-6 {
			t.Fatalf("%g is %+v, and that stands at %g", y, p, got)
		}
		if beyond && !p.Rows() {
			t.Fatalf("%+v is no row", p)
		}
	})
}

// TestAnEmptySystemKeepsItsRows writes into another one.
func TestAnEmptySystemKeepsItsRows(t *testing.T) {
	c := project.New()
	l := LayoutGrid(arrange.Realise(c, arrange.Options{}), GridOptions{Width: 400})
	keep := l.RowRanges()
	last := l.Systems[len(l.Systems)-1]
	c, err := project.AddNote{Note: project.Note{Start: last.Start, Duration: q, Pitch: theory.MustParsePitch("C7")}}.Apply(c)
	if err != nil {
		t.Fatal(err)
	}
	l = LayoutGrid(arrange.Realise(c, arrange.Options{}), GridOptions{Width: 400, Keep: keep})
	for k, kept := range keep[:len(keep)-1] {
		if s := &l.Systems[k]; s.Low != kept.Low || s.High != kept.High {
			t.Errorf("the empty system %d had %+v and has rows from %d to %d", k, kept, s.Low, s.High)
		}
	}
	if s := &l.Systems[len(keep)-1]; s.High < 97 {
		t.Errorf("C7 has no row with a margin: rows up to %d", s.High)
	}
}
