package arrange

import (
	"cmp"
	"slices"

	"organbook/internal/theory"
)

// AlternativesOf returns the alternatives of several steps, ascending, as
// Alternatives does of one. It walks the line once, so that it takes time in
// proportion to the chart's length and the number of steps.
func (r *Realisation) AlternativesOf(steps []int) [][]Alternative {
	out := make([][]Alternative, len(steps))
	if r.search == nil {
		return out
	}
	at, before := 0, []int(nil)
	for k, step := range steps {
		if step < 0 || step >= len(r.Steps) {
			continue
		}
		for i := r.search.first[step]; at < i; at++ {
			before = r.search.costsUpTo(at, before)
		}
		out[k] = r.search.alternatives(at, before)
	}
	return out
}

// maxInVoicing bounds the blocks of one voicing that the bench offers.
const maxInVoicing = 12

// AlternativesIn returns the blocks that step i could have in one voicing,
// cheapest first, at most twelve; nil where the voicing has none, or the step
// has no chord. Costs are measured from the cheapest of them.
func (r *Realisation) AlternativesIn(step int, v theory.Voicing) []Alternative {
	if r.search == nil || step < 0 || step >= len(r.Steps) {
		return nil
	}
	q, i := r.search, r.search.first[step]
	if !playable(q.spots[i].chord) {
		return nil
	}
	before := q.costsBefore(i)
	list := distinct(q.inVoicing(i, v, before))
	if len(list) == 0 {
		return nil
	}
	list = list[:min(len(list), maxInVoicing)]
	out := q.written(i, list, list[0].cost, before)
	for k, o := range list {
		if out[k].Remark = q.soundRemark(i, o.candidate); out[k].Remark.IsZero() {
			out[k].Remark = q.moveRemark(i, o.candidate)
		}
	}
	return out
}

// inVoicing prices the blocks of note i in one voicing, cheapest first, as if
// the note had no pin. Those made here are not in the search's list, and a slide
// of the note before cannot have been made for them.
func (q *search) inVoicing(i int, v theory.Voicing, before []int) []option {
	free := q.spots[i]
	free.pin = nil
	list := q.options(i, q.stage.candidates(&free, v, following{}), before)
	list = slices.DeleteFunc(list, func(o option) bool { return o.candidate.voicing != v })
	for k := range list {
		list[k].cost = q.throughCost(i, list[k].candidate, -1, before)
	}
	slices.SortStableFunc(list, func(a, b option) int { return cmp.Compare(a.cost, b.cost) })
	return list
}
