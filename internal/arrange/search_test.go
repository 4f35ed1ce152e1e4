package arrange

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// tiny charts have few enough notes to try every path.
var tiny = projecttest.Size{MaxBars: 3, MaxNotes: 4}

// pathCost adds up a path as the search defines it.
func (q *search) pathCost(path []int) int {
	cost := 0
	for i, c := range path {
		cost += q.cands[i][c].cost + q.backFrom(i).cost(&q.cands[i][c])
		if i > 0 {
			cost += q.move(i, &q.cands[i-1][path[i-1]], &q.cands[i][c], c)
		}
	}
	return cost
}

// isCheapest tries every path, and fails when one is cheaper than the chosen one.
func isCheapest(t *rapid.T, q *search) {
	best := math.MaxInt // costs may be below 0
	q.everyPath(nil, func(path []int) { best = min(best, q.pathCost(path)) })
	if got := q.pathCost(q.chosen); got != best {
		t.Fatalf("the search found %d, the cheapest path costs %d", got, best)
	}
}

// everyPath calls visit with each path through the candidates.
func (q *search) everyPath(path []int, visit func([]int)) {
	if len(path) == len(q.cands) {
		visit(path)
		return
	}
	for c := range q.cands[len(path)] {
		q.everyPath(append(path, c), visit)
	}
}

func TestSearchEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(tiny).Draw(t, "chart")
		q := Realise(c, Options{}).search
		if len(q.cands) == 0 {
			return
		}
		isCheapest(t, q)
	})
}

// The search passes over what costs too much by itself; that is right only as
// long as moves take nothing off.
func TestNoMoveCostsLessThanNothing(t *testing.T) {
	onCharts(t, func(t *rapid.T, _ *project.Chart, r *Realisation) {
		q := r.search
		for i := 1; i < len(q.cands); i++ {
			for p := range q.cands[i-1] {
				for c := range q.cands[i] {
					if cost := q.move(i, &q.cands[i-1][p], &q.cands[i][c], c); cost < 0 {
						t.Fatalf("from candidate %d to %d of note %d costs %d", p, c, i, cost)
					}
				}
			}
		}
	})
}

func TestAlternativesCostWhatTheyCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(tiny).Draw(t, "chart")
		c.Pins = nil
		r := Realise(c, Options{})
		q := r.search
		if len(q.cands) == 0 {
			return
		}
		step := rapid.IntRange(0, len(q.first)-1).Draw(t, "step")
		at := q.first[step]
		cheapest := make([]int, len(q.cands[at]))
		for i := range cheapest {
			cheapest[i] = math.MaxInt
		}
		q.everyPath(nil, func(path []int) { cheapest[path[at]] = min(cheapest[path[at]], q.pathCost(path)) })
		best := q.pathCost(q.chosen)
		before := q.costsBefore(at)
		for i, want := range cheapest {
			if got := q.throughCost(at, &q.cands[at][i], i, before); got != want {
				t.Fatalf("candidate %d costs %d by the search, %d by trying", i, got, want)
			}
		}
		if first := r.Alternatives(step)[0]; first.Cost != 0 || cheapest[q.chosen[at]] != best {
			t.Fatalf("the first alternative costs %d", first.Cost)
		}
	})
}
