package arrange

import (
	"cmp"
	"math"
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// The bench offers at most so many blocks in the passage's voicing, and after
// them so many with more borrowed voices than the treatment asks for, and the best block
// in other voicings.
const (
	maxAlternatives  = 8
	maxOtherVoicings = 5
	maxFreer         = 3
)

// Alternatives returns the blocks that step i could have, the chosen one
// included, ordered by what the whole line would cost with each in place and
// everything else as good as it can be. Blocks in other voicings than the
// passage's follow at the end; the search does not weigh those against the
// passage's, so their costs may lie below 0. It returns nil for a step that is
// not there, and takes time in proportion to the chart's length.
func (r *Realisation) Alternatives(step int) []Alternative {
	if r.search == nil || step < 0 || step >= len(r.Steps) {
		return nil
	}
	i := r.search.first[step]
	return r.search.alternatives(i, r.search.costsBefore(i))
}

// option is a candidate with the cost of the best line through it.
type option struct {
	candidate *candidate
	cost      int
}

func (q *search) alternatives(i int, before []int) []Alternative {
	own := q.options(i, q.cands[i], before)
	best := own[0].cost
	for _, o := range own {
		best = min(best, o.cost)
	}
	own = distinct(own)
	list := append(slices.Clip(own[:min(len(own), maxAlternatives)]), q.freer(i, own, before)...)
	list = append(list, q.otherVoicings(i, list, before)...)
	out := q.written(i, list, best, before)
	for k, o := range list {
		out[k].Remark = q.remark(i, o.candidate, k == 0)
	}
	return out
}

// written turns options of note i into alternatives without remarks; best is what
// their costs are measured from.
func (q *search) written(i int, list []option, best int, before []int) []Alternative {
	w := q.writer()
	out := make([]Alternative, len(list))
	rest := q.restOfLine(i, before)
	for k, o := range list {
		out[k] = Alternative{
			Block: w.block(i, o.candidate), Cost: o.cost - best, Parts: q.breakdown(i, o, before, rest),
		}
	}
	return out
}

// options prices candidates for note i, cheapest first. Breaking a pin is free
// here: the bench shows what the note would get without it, the pin first.
func (q *search) options(i int, cands []candidate, before []int) []option {
	out := make([]option, len(cands))
	for c := range cands {
		cand := &cands[c]
		out[c] = option{cand, q.throughCost(i, cand, c, before)}
		if q.spots[i].pin != nil && cand.cost >= pinBroken {
			out[c].cost -= pinBroken
		}
	}
	slices.SortStableFunc(out, func(a, b option) int {
		if a.candidate.pinned != b.candidate.pinned {
			return cmp.Compare(b2i(b.candidate.pinned), b2i(a.candidate.pinned))
		}
		return cmp.Compare(a.cost, b.cost)
	})
	return out
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// throughCost is the cost of the best line that gives note i a candidate,
// which need not be one the search knew; index is its place in the search's
// list, -1 for none.
func (q *search) throughCost(i int, c *candidate, index int, before []int) int {
	cost := c.cost + q.backFrom(i).cost(c)
	if i > 0 {
		cost += q.bestInto(i, c, index, before)
	}
	if i+1 < len(q.cands) {
		_, ahead := q.step(i, c)
		cost += ahead
	}
	return cost
}

// costsBefore returns, for each candidate of the note before i, the cost of
// the best line up to it, its own cost included.
func (q *search) costsBefore(i int) []int {
	var costs []int
	for at := range i {
		costs = q.costsUpTo(at, costs)
	}
	return costs
}

// costsUpTo returns the cost of the best line up to each candidate of note at,
// given those of the note before it.
func (q *search) costsUpTo(at int, before []int) []int {
	costs, link := make([]int, len(q.cands[at])), q.backFrom(at)
	for d := range costs {
		costs[d] = q.cands[at][d].cost + link.cost(&q.cands[at][d])
		if at > 0 {
			costs[d] += q.bestInto(at, &q.cands[at][d], d, before)
		}
	}
	return costs
}

// bestInto returns the cost of the best line up to a candidate of note at
// without its own, given the costs up to each candidate of the note before.
func (q *search) bestInto(at int, c *candidate, index int, before []int) int {
	best := math.MaxInt
	for p := range q.cands[at-1] {
		best = min(best, before[p]+q.move(at, &q.cands[at-1][p], c, index))
	}
	return best
}

// otherVoicingsOffered are the voicings the bench tries beside the passage's.
var otherVoicingsOffered = []theory.Voicing{
	theory.Close, theory.Drop2, theory.Drop24, theory.ThreePart, theory.Drop3, theory.DoubleLead, theory.Spread,
}

// otherVoicings returns the best block of each other voicing, in the order the
// voicings are offered.
func (q *search) otherVoicings(i int, own []option, before []int) []option {
	var out []option
	for _, v := range otherVoicingsOffered {
		if v == q.voicingOf(i) || !playable(q.spots[i].chord) || len(out) == maxOtherVoicings {
			continue
		}
		for _, o := range q.inVoicing(i, v, before) {
			if !offers(own, o.candidate) && !offers(out, o.candidate) {
				out = append(out, o)
				break
			}
		}
	}
	return out
}

// freer returns the best blocks that the passage's voicing has beyond the
// search's own: those with more borrowed voices than the treatment asks for.
func (q *search) freer(i int, own []option, before []int) []option {
	sp := q.spots[i]
	if sp.pin != nil || !playable(sp.chord) || bareVoicing(q.voicingOf(i)) {
		return nil
	}
	free := *sp.passage
	free.Treatment.Borrow, free.kind = project.BorrowFreely, -1
	sp.passage = &free
	cands := q.stage.candidates(&sp, q.voicingOf(i), following{})
	var out []option
	for _, o := range q.options(i, cands, before) {
		o.cost = q.throughCost(i, o.candidate, -1, before)
		if o.candidate.technique == theory.Borrowed && o.candidate.n > 1 && !offers(own, o.candidate) && !offers(out, o.candidate) {
			out = append(out, o)
		}
	}
	slices.SortStableFunc(out, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
	return out[:min(len(out), maxFreer)]
}

// distinct keeps the first of the options with the same keys: a slide may
// reach keys that the family reaches too.
func distinct(list []option) []option {
	var out []option
	for _, o := range list {
		if !offers(out, o.candidate) {
			out = append(out, o)
		}
	}
	return out
}

func offers(list []option, c *candidate) bool {
	return slices.ContainsFunc(list, func(o option) bool {
		return o.candidate.n == c.n && o.candidate.keys == c.keys
	})
}
