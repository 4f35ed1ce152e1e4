package arrange

import (
	"slices"

	"organbook/internal/theory"
)

// What a jump leads back to. The search runs along the page, and a repeat, a da
// capo or a dal segno goes back to a note that the page has long passed. So the
// line is searched first as if nothing followed a jump; then the last note before
// each jump is weighed, and offered approaches, for the block that the note it
// goes back to has got. That note keeps its block: what the jump leads to is
// chosen for its own surroundings, and what leads there for it.

// backLink is a jump that always goes from one melody note back to the same
// other one.
type backLink struct {
	// from and to are the spots that follow each other over the jump.
	from, to int
	// spot is the spot at to as it follows from, and block what it has got.
	spot  spot
	block candidate
}

// backLinks finds the jumps that are heard as one line.
func (q *search) backLinks() (links []backLink) {
	s := q.stage
	for n, i := range q.first {
		from := i
		for from+1 < len(q.spots) && q.spots[from+1].melody == n {
			from++
		}
		bar := s.rule.BarAt(s.chart.Melody[n].End() - 1)
		to, marked := s.flow[bar]
		if !marked || len(to) != 1 || to[0] > bar || n+1 < len(q.first) && s.rule.BarAt(s.chart.Melody[n+1].Start) == bar {
			continue
		}
		first := q.spotFrom(to[0])
		if first < 0 || first > from {
			continue
		}
		link := backLink{from: from, to: first, spot: q.spots[first], block: q.cands[first][q.chosen[first]]}
		sp, end := &q.spots[from], s.chart.Melody[n].End()
		gap := s.rule.BarStart(bar+1) - end + link.spot.note.Start - s.rule.BarStart(to[0])
		if gap > s.meterAt(sp.note.Start).Pulse() {
			continue
		}
		link.spot.joined, link.spot.link, link.spot.repeats = true, linked, false
		link.spot.sameChord = playable(sp.heard) && sp.heard == link.spot.heard
		links = append(links, link)
	}
	return links
}

// spotFrom returns the first spot that starts in or after a bar; -1 for none.
func (q *search) spotFrom(bar int) int {
	start := q.stage.rule.BarStart(bar)
	for _, i := range q.first {
		if q.spots[i].note.Start >= start {
			return i
		}
	}
	return -1
}

// backFrom returns the jump after note i; nil for none.
func (q *search) backFrom(i int) *backLink {
	if k, found := slices.BinarySearchFunc(q.back, i, func(l backLink, i int) int { return l.from - i }); found {
		return &q.back[k]
	}
	return nil
}

// cost is what the way over the jump from a candidate costs; nothing where there
// is no jump.
func (l *backLink) cost(c *candidate) int {
	if l == nil {
		return 0
	}
	return moveCost(c, &l.block, &l.spot)
}

// leadBack weighs what goes before jumps, once the line has been searched. Where
// that should change a block that a jump goes back to, as it hardly can, all
// stays as it was.
func (q *search) leadBack() {
	links := q.backLinks()
	if len(links) == 0 {
		return
	}
	before := *q
	q.cands, q.ahead = append([][]candidate(nil), q.cands...), append([][]int(nil), q.ahead...)
	q.back = links
	last := 0
	for k := range links {
		q.approachBack(&links[k])
		last = max(last, links[k].from)
	}
	for i := last; i >= 0; i-- {
		q.ahead[i] = q.costsAhead(i)
	}
	q.chosen = q.cheapestPath()
	for k := range links {
		if c := &q.cands[links[k].to][q.chosen[links[k].to]]; c.keys != links[k].block.keys || c.n != links[k].block.n {
			*q = before
			return
		}
	}
}

// approachBack offers the note before a jump approaches into the block after it,
// and the notes of a run before it approaches into those, as far back as that
// brings anything new.
func (q *search) approachBack(link *backLink) {
	i := link.from
	if q.spots[i].pin != nil || q.spots[i].passage != link.spot.passage {
		return
	}
	m := &maker{stage: q.stage, spot: &q.spots[i], voicing: q.voicingOf(i), out: q.cands[i], remembered: true}
	m.approaches(following{&link.spot, []candidate{link.block}})
	if m.remembered {
		return // there is none
	}
	for k := range m.out {
		if c := &m.out[k]; c.technique == theory.Approach {
			c.into, c.back = -1, true
		}
	}
	for q.cands[i] = m.out; i > 0 && q.after(i-1).spot != nil; {
		i--
		known := q.cands[i]
		q.cands[i] = q.stage.candidates(&q.spots[i], q.voicingOf(i), q.after(i))
		if slices.EqualFunc(known, q.cands[i], sameGoal) {
			return
		}
	}
}

// sameGoal reports whether two candidates are the same keys on the way to the same
// candidate of the next note, at the same cost.
func sameGoal(a, b candidate) bool {
	return a.keys == b.keys && a.n == b.n && a.into == b.into && a.cost == b.cost
}
