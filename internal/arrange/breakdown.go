package arrange

import (
	"math"

	"organbook/internal/phrase"
	"organbook/internal/project"
)

// Part is one part of what an alternative costs, in a sentence.
type Part struct {
	// Cost is in the scale of weights.go: 1 is an inner voice moving by a
	// semitone. Negative parts are tastes the block meets.
	Cost int
	Text phrase.Phrase
}

// breakdown says what a candidate of note i is charged for: by itself, on the
// way from the block before and on the way to the block after, and by how much
// the rest of the line is dearer or cheaper than the best rest there is.
//
// Invariant: the parts add up to the cost of the best line through the
// candidate, less base.
func (q *search) breakdown(i int, o option, before []int, base int) []Part {
	c := o.candidate
	parts := appendParts(nil, c.price, "%s")
	index := q.indexOf(i, c)
	if i > 0 {
		p := q.bestBefore(i, c, index, before)
		parts = appendParts(parts, q.movePrice(i, p, c, index), "%s, from the block before")
	}
	if i+1 < len(q.cands) {
		d, _ := q.step(i, c)
		parts = appendParts(parts, q.movePrice(i+1, c, &q.cands[i+1][d], d), "%s, into the block after")
	}
	if link := q.backFrom(i); link != nil {
		parts = appendParts(parts, movePrice(c, &link.block, &link.spot), "%s, into the block that the jump goes back to")
	}
	rest := o.cost - base
	for _, p := range parts {
		rest -= p.Cost
	}
	switch {
	case rest > 0:
		parts = append(parts, Part{rest, phrase.Of("the rest of the line pays for it")})
	case rest < 0:
		parts = append(parts, Part{rest, phrase.Of("the rest of the line gains by it")})
	}
	return parts
}

func appendParts(parts []Part, p price, form string) []Part {
	for _, c := range p.items[:p.n] {
		parts = append(parts, Part{int(c.amount), phrase.Of(form, phrase.Of(chargeTexts[c.kind]))})
	}
	return parts
}

// restOfLine returns what the line costs apart from note i and the moves around
// it when that note has its chosen candidate: what breakdowns are measured from.
func (q *search) restOfLine(i int, before []int) int {
	c := &q.cands[i][q.chosen[i]]
	rest := q.throughCost(i, c, q.chosen[i], before) - c.price.total
	if i > 0 {
		rest -= q.movePrice(i, q.bestBefore(i, c, q.chosen[i], before), c, q.chosen[i]).total
	}
	if i+1 < len(q.cands) {
		d, _ := q.step(i, c)
		rest -= q.movePrice(i+1, c, &q.cands[i+1][d], d).total
	}
	return rest - q.backFrom(i).cost(c)
}

// indexOf returns the place of a candidate in the search's own list, -1 for one
// that was made for the bench.
func (q *search) indexOf(i int, c *candidate) int {
	for k := range q.cands[i] {
		if &q.cands[i][k] == c {
			return k
		}
	}
	return -1
}

// bestBefore returns the candidate of the note before i on the best line to c.
func (q *search) bestBefore(i int, c *candidate, index int, before []int) *candidate {
	best, cost := 0, math.MaxInt
	for p := range q.cands[i-1] {
		if total := before[p] + q.move(i, &q.cands[i-1][p], c, index); total < cost {
			best, cost = p, total
		}
	}
	return &q.cands[i-1][best]
}

// movePrice is move with its parts. index is as in move.
func (q *search) movePrice(i int, p, c *candidate, index int) price {
	if p.into >= 0 && p.into != index {
		if !p.fixed {
			return pay(chargeSlide, brokenSlide)
		}
		return pay(chargeSlide, pinnedAstray).and(movePrice(p, c, &q.spots[i]))
	}
	return movePrice(p, c, &q.spots[i])
}

// movePrice is moveCost with its parts; the two are kept apart because the
// search asks for the sum a hundred thousand times.
func movePrice(p, c *candidate, sp *spot) (cost price) {
	if p.n != c.n && sp.thin == notThin {
		cost = cost.plus(chargeShape, shapeChange)
	}
	if !sp.joined {
		return cost
	}
	if sp.sameChord && changesFamily(p, c) {
		cost = cost.plus(chargeColour, changedFamily)
	}
	t := &sp.passage.Treatment
	lead, inner, standing := distance(p.keys[0], c.keys[0]), min(p.n, c.n), 0
	for k := 1; k < inner; k++ {
		d := distance(p.keys[k], c.keys[k])
		if moved := travelled(p, c, k, d, lead); t.Leaning == project.LeanSmooth {
			cost = cost.plus(chargeMovement, moved*smoothSemitone)
		} else {
			cost = cost.plus(chargeMovement, moved*perSemitone)
		}
		if d > lead+2 {
			cost = cost.plus(chargeLeap, innerLeap)
		}
		if d == 0 {
			standing++
		}
	}
	if lead > leapFrom {
		cost = cost.plus(chargeSpacing, spacingCost(p, c, inner))
	}
	if t.Leaning == project.LeanContrary {
		cost = cost.plus(chargeContrary, alongCost(p, c, inner))
	}
	if sp.repeats && t.AlternateRepeats && inner > 1 && standing == inner-1 {
		cost = cost.plus(chargeRepeat, sameRepeat)
	}
	return cost.plus(standingKind(standing, inner, lead), stillCost(p, c, sp, lead, standing, inner))
}

func standingKind(standing, inner, lead int) chargeKind {
	if standing == inner-1 && lead > 0 {
		return chargeFrozen
	}
	return chargeStanding
}
