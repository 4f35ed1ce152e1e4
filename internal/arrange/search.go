package arrange

import (
	"math"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// The search finds, for a whole chart, the cheapest way to give every melody
// note, and every part of a held one, one of its candidates, where a way costs
//
//	Σ own(i, cᵢ) + Σ move(cᵢ₋₁, cᵢ)
//
// and over each jump back what leadback.go says of it. It is the shortest path
// through a layered graph (Viterbi's algorithm): with n notes and at most m
// candidates a note it takes O(n·m²) steps and O(n·m) memory. m is bounded by the
// families that serve a chord, so the time is linear in the length of the chart.
// Costs are whole numbers and ties go to the earlier candidate, so the result is
// the same on every machine.
//
// Invariant, for every note i and candidate c:
//
//	ahead[i][c] = own(i, c) + min over d of (move(c, d) + ahead[i+1][d])
//
// that is, the cost of the best line from c to the end.
type search struct {
	stage *stage
	spots []spot
	cands [][]candidate
	ahead [][]int
	// first is the index of each melody note's first spot.
	first []int
	// chosen is the index of each note's candidate on the cheapest path.
	chosen []int
	// back are the jumps that are heard as one line, in ascending order of from.
	back []backLink
}

func newSearch(s *stage) *search {
	q := &search{stage: s, spots: s.spots()}
	n := len(q.spots)
	for i := range q.spots {
		if !q.spots[i].held() {
			q.first = append(q.first, i)
		}
	}
	q.cands = make([][]candidate, n)
	q.ahead = make([][]int, n)
	for i := n - 1; i >= 0; i-- {
		q.cands[i] = s.candidates(&q.spots[i], q.voicingOf(i), q.after(i))
		q.ahead[i] = q.costsAhead(i)
	}
	q.chosen = q.cheapestPath()
	q.leadBack()
	s.known = nil
	return q
}

// voicingOf returns the voicing note i is offered in. Under a plan that gives
// the right hand the lead alone that is unison, whatever the treatment says; a
// pin of the voicing overrules both.
func (q *search) voicingOf(i int) theory.Voicing {
	if p := q.spots[i].pin; p != nil && p.Strength == project.PinVoicing {
		return p.Voicing
	}
	if p := q.spots[i].notePin; p != nil && p.Strength == project.PinBlock && !bareVoicing(p.Voicing) {
		return p.Voicing
	}
	if q.spots[i].passage.Plan == project.SoloOverComp {
		return theory.UnisonVoicing
	}
	switch q.spots[i].thin {
	case thinPair:
		return theory.Pair
	case thinOctaves:
		return theory.Octaves
	case thinAlone:
		return theory.UnisonVoicing
	}
	if q.spots[i].climax {
		return opened(q.spots[i].passage.Treatment.Voicing)
	}
	return q.spots[i].passage.Treatment.Voicing
}

// after returns the next note when it always follows, in the same line and
// passage, and nothing otherwise: an approach made for one of two notes that may
// follow would miss the other.
func (q *search) after(i int) following {
	if i+1 == len(q.spots) || !q.spots[i+1].joined || q.spots[i+1].link != linked || q.spots[i+1].held() || q.spots[i+1].passage != q.spots[i].passage {
		return following{}
	}
	return following{&q.spots[i+1], q.cands[i+1]}
}

func (q *search) costsAhead(i int) []int {
	out, link := make([]int, len(q.cands[i])), q.backFrom(i)
	for c := range q.cands[i] {
		out[c] = q.cands[i][c].cost + link.cost(&q.cands[i][c])
		if i+1 < len(q.cands) {
			_, cost := q.step(i, &q.cands[i][c])
			out[c] += cost
		}
	}
	return out
}

// step returns the best candidate of note i+1 after c, and the cost of going
// there and on to the end. No move costs less than nothing, so a candidate that
// costs too much from itself on need not be moved to.
func (q *search) step(i int, c *candidate) (best, cost int) {
	cost = math.MaxInt
	for d, ahead := range q.ahead[i+1] {
		if ahead >= cost {
			continue
		}
		total := q.move(i+1, c, &q.cands[i+1][d], d) + ahead
		if total < cost {
			best, cost = d, total
		}
	}
	return best, cost
}

// move is moveCost from a candidate of the note before to one of note i, with
// the promise of a slide checked. index is the place of c among the candidates
// of note i, -1 for one that is not there.
func (q *search) move(i int, p, c *candidate, index int) int {
	if p.into >= 0 && p.into != index {
		if !p.fixed {
			return brokenSlide
		}
		return pinnedAstray + moveCost(p, c, &q.spots[i])
	}
	return moveCost(p, c, &q.spots[i])
}

func (q *search) cheapestPath() []int {
	path := make([]int, len(q.cands))
	for i := range q.cands {
		if i == 0 {
			path[0] = argmin(q.ahead[0])
			continue
		}
		path[i], _ = q.step(i-1, &q.cands[i-1][path[i-1]])
	}
	return path
}

func argmin(costs []int) (at int) {
	for i, c := range costs {
		if c < costs[at] {
			at = i
		}
	}
	return at
}

// steps writes the chosen path as the realisation's steps.
func (q *search) steps() []Step {
	w := q.writer()
	out := make([]Step, len(q.first))
	for n, i := range q.first {
		sp, c := &q.spots[i], &q.cands[i][q.chosen[i]]
		out[n] = Step{
			Start: sp.note.Start, Duration: q.stage.chart.Melody[n].Duration, Bar: sp.bar,
			Lead: sp.lead, Span: max(sp.span, 0), Chord: sp.chord,
			Block:       w.block(i, c),
			Anticipates: sp.anticipates, Pinned: c.pinned, Moves: q.moves(w, i),
		}
	}
	return out
}
