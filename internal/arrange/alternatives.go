package arrange

import "slices"

// maxAlternatives is how many blocks the bench offers for a step.
const maxAlternatives = 12

// Alternatives returns the blocks that step i could have, the chosen one
// included, ordered by what the whole line would cost with each in place and
// everything else as good as it can be. It returns nil for a step that is not
// there. It takes time in proportion to the chart's length.
func (r *Realisation) Alternatives(step int) []Alternative {
	if r.search == nil || step < 0 || step >= len(r.Steps) {
		return nil
	}
	return r.search.alternatives(step)
}

func (q *search) alternatives(i int) []Alternative {
	behind := q.costsBehind(i)
	var out []Alternative
	best := 0
	for c := range q.cands[i] {
		cand := &q.cands[i][c]
		cost := behind[c] + q.ahead[i][c]
		if q.spots[i].pin != nil && !cand.pinned {
			cost -= pinBroken
		}
		if c == 0 || cost < best {
			best = cost
		}
		out = append(out, Alternative{Block: q.block(i, cand), Cost: cost})
	}
	for c := range out {
		out[c].Cost -= best
	}
	slices.SortStableFunc(out, func(a, b Alternative) int { return a.Cost - b.Cost })
	return out[:min(len(out), maxAlternatives)]
}

// costsBehind returns, for each candidate of note i, the cost of the best line
// from the beginning up to but without the candidate's own cost.
func (q *search) costsBehind(i int) []int {
	costs := make([]int, len(q.cands[0]))
	for at := 1; at <= i; at++ {
		here := make([]int, len(q.cands[at]))
		for d := range here {
			here[d] = q.bestBehind(at, d, costs)
		}
		costs = here
	}
	return costs
}

// bestBehind returns the cost of the best line up to candidate d of note at,
// given the costs up to each candidate of the note before.
func (q *search) bestBehind(at, d int, costs []int) int {
	best := -1
	for c := range q.cands[at-1] {
		prev := &q.cands[at-1][c]
		total := costs[c] + prev.cost + q.move(prev, &q.cands[at][d], d, q.spots[at].joined)
		if best < 0 || total < best {
			best = total
		}
	}
	return best
}
