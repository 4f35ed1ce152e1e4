package paint

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// TestSystemsArePlacedAlikeInAnyOrder holds that what stands in a system does
// not depend on which systems were looked at before.
func TestSystemsArePlacedAlikeInAnyOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, o := drawRealisation(t), drawOptions(t)
		down, mixed := LayoutGrid(r, o), LayoutGrid(r, o)
		order := make([]int, len(down.Systems))
		for k := range order {
			order[k] = k
			down.placed(k)
		}
		for _, k := range rapid.Permutation(order).Draw(t, "order") {
			mixed.placed(k)
			mixed.placed(k) // and once is enough
		}
		if !reflect.DeepEqual(down, mixed) {
			t.Fatal("the order matters")
		}
	})
}

// TestEverythingIsPlaced holds that the systems together show every part of
// every note, and the strokes of each limb, as a walk over the whole piece
// gives them.
func TestEverythingIsPlaced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawRealisation(t)
		for i := range r.Notes {
			r.Notes[i].Limb = rapid.SampledFrom([]arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot, arrange.RightFoot}).Draw(t, "limb")
			r.Notes[i].Duration *= project.Ticks(rapid.IntRange(1, 3).Draw(t, "longer"))
		}
		l := LayoutGrid(r, drawOptions(t))
		leads, voices, lanes := make([]int, len(l.Systems)), make([]int, len(l.Systems)), make([]int, len(l.Systems))
		for _, n := range r.Chart.Melody {
			l.inSystems(n.Start, n.End(), func(k int) { leads[k]++ })
		}
		for i := range r.Notes {
			if n := &r.Notes[i]; showsInRows(n) {
				l.inSystems(n.Start, n.Start+n.Duration, func(k int) { voices[k]++ })
			}
		}
		for _, m := range strokes(r.Notes) {
			l.inSystems(m.start, m.end, func(k int) { lanes[k]++ })
		}
		for k := range l.Systems {
			if s := l.placed(k); len(s.leads) != leads[k] || len(s.voices) != voices[k] || len(s.laneBar) != lanes[k] {
				t.Fatalf("system %d shows %d leads, %d voices, %d strokes; want %d, %d, %d", k, len(s.leads), len(s.voices), len(s.laneBar), leads[k], voices[k], lanes[k])
			}
		}
	})
}

// stroke is when a limb strikes and how long what it strikes sounds at most.
type stroke struct{ start, end project.Ticks }

// strokes returns the strokes of all limbs: notes of a lane with one start, cut
// off by the next.
func strokes(notes []arrange.Note) (out []stroke) {
	var of [laneCount][]stroke
	for _, n := range notes {
		lane := laneOf(n.Limb)
		if last := len(of[lane]) - 1; last >= 0 && of[lane][last].start == n.Start {
			of[lane][last].end = max(of[lane][last].end, n.Start+n.Duration)
			continue
		} else if last >= 0 {
			of[lane][last].end = min(of[lane][last].end, n.Start)
		}
		of[lane] = append(of[lane], stroke{n.Start, n.Start + n.Duration})
	}
	for _, s := range of {
		out = append(out, s...)
	}
	return out
}
