package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/theory"
)

// target names the block that an approach leads into, and tells whether the next
// note has that block: a pinned approach stays where it is when that changes.
func (w *writer) target(i int, c *candidate) (name string, reached bool) {
	if c.back {
		link := w.q.backFrom(i)
		return w.name(&link.spot, &link.block), true
	}
	into := &w.q.cands[i+1][c.into]
	return w.name(&w.q.spots[i+1], into), w.q.chosen == nil || !c.fixed || w.q.chosen[i+1] == c.into
}

// landing returns the spot that an approach leads into.
func (w *writer) landing(i int, c *candidate) *spot {
	if c.back {
		return &w.q.backFrom(i).spot
	}
	return &w.q.spots[i+1]
}

// encloses says which note a slide and the note it leads to close in on from
// both sides; it says nothing where they do not.
func (w *writer) encloses(i int) phrase.Phrase {
	q := w.q
	if i+2 >= len(q.spots) || !q.spots[i+2].joined || q.spots[i+2].held() {
		return phrase.Phrase{}
	}
	a, b, goal := q.spots[i].lead, q.spots[i+1].lead, q.spots[i+2].lead
	up, down := goal.Key()-a.Key(), goal.Key()-b.Key()
	if up*down >= 0 || up > 2 || up < -2 || down > 2 || down < -2 {
		return phrase.Phrase{}
	}
	return phrase.Of("%s and %s enclose %s", a.Name(), b.Name(), goal.Name())
}

// borrowedTwoReason explains a block with two borrowed voices.
func (w *writer) borrowedTwoReason(sp *spot, c *candidate, name string) phrase.Phrase {
	own, other := w.sides(c)
	if c.note.PC() == sp.lead.Name().PC() {
		return phrase.Of("not in %s; borrowed from %s in place of %s, and so is %s in place of %s, giving %s",
			own, other, c.instead, c.also, c.alsoInstead, name)
	}
	return phrase.Of("in %s; under it two voices are borrowed from %s, %s in place of %s and %s in place of %s, giving %s",
		own, other, c.note, c.instead, c.also, c.alsoInstead, name)
}

// turnReason explains the other chord under a lead that stays.
func (w *writer) turnReason(c *candidate, name string) phrase.Phrase {
	own, _ := w.sides(c)
	return phrase.Of("the voices under it turn to %s, with %s kept in place of %s, giving %s", own, c.note, c.instead, name)
}

// approachReason explains the approaches that are no slides by one interval.
func (w *writer) approachReason(i int, c *candidate, name string) phrase.Phrase {
	sp := &w.q.spots[i]
	switch c.origin {
	case fromScale:
		target, _ := w.target(i, c)
		return phrase.Of("it leads to %s by a step of the scale, so every voice of the block, %s, takes its own step into %s",
			w.landing(i, c).lead.Name(), name, target)
	case fromDominant:
		return phrase.Of("it leads into %s, so it takes the diminished chord %s that leads there, %s",
			w.chord(w.landing(i, c).chord), w.family(c.service.Family).away, name)
	case fromDiminished:
		return phrase.Of("in neither chord of the family; it passes with a diminished chord hung under it, %s, which leads on anywhere", name)
	}
	return phrase.Of("in neither chord of the family; it passes on the diminished chord over the root, %s, which keeps %s and resolves around it",
		name, sp.heard.Root())
}

// blueReason explains a blue note.
func (w *writer) blueReason(sp *spot, name string) phrase.Phrase {
	form := "the blue third, over the dominant's own notes, giving %s"
	if (sp.lead.Name().PC()-sp.heard.Root().PC()+12)%12 == 6 {
		form = "the blue fifth, over the dominant's own notes, giving %s"
	}
	return phrase.Of(form, name)
}

// runReason explains a lead that is thinned to itself in a fast run.
func (w *writer) runReason(sp *spot, c *candidate) phrase.Phrase {
	how := phrase.Of("the lead plays alone")
	if c.voicing == theory.Octaves {
		how = phrase.Of("the lead is doubled in octaves")
	}
	return phrase.Of("the run is fast (%s seconds a note), so here %s and the blocks wait for the accents",
		phrase.Decimal(w.q.stage.seconds(sp), 2), how)
}
