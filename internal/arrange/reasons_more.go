package arrange

import (
	"fmt"

	"organbook/internal/theory"
)

// target names the block that an approach leads into.
func (w *writer) target(i int, c *candidate) string {
	return w.name(&w.q.spots[i+1], &w.q.cands[i+1][c.into])
}

// encloses says which note a slide and the note it leads to close in on from
// both sides, "" where they do not.
func (w *writer) encloses(i int) string {
	q := w.q
	if i+2 >= len(q.spots) || !q.spots[i+2].joined || q.spots[i+2].held() {
		return ""
	}
	a, b, goal := q.spots[i].lead, q.spots[i+1].lead, q.spots[i+2].lead
	up, down := goal.Key()-a.Key(), goal.Key()-b.Key()
	if up*down >= 0 || up > 2 || up < -2 || down > 2 || down < -2 {
		return ""
	}
	return fmt.Sprintf("%s and %s enclose %s", a.Name(), b.Name(), goal.Name())
}

// borrowedTwoReason explains a block with two borrowed voices.
func (w *writer) borrowedTwoReason(sp *spot, c *candidate, name string) string {
	words := w.family(c.service.Family)
	chord, other := words.home, "the diminished chord "+words.away
	if c.chordSide == theory.Away {
		chord, other = other, chord
	}
	return fmt.Sprintf("Two voices are borrowed from %s, %s in place of %s and %s in place of %s in %s, giving %s.",
		other, c.note, c.instead, c.also, c.alsoInstead, chord, name)
}

// turnReason explains the other chord under a lead that stays.
func (w *writer) turnReason(sp *spot, c *candidate, name string) string {
	words := w.family(c.service.Family)
	chord := words.home
	if c.chordSide == theory.Away {
		chord = "the diminished chord " + words.away
	}
	how := "comes again"
	if sp.held() {
		how = "is held"
	}
	return fmt.Sprintf("%s %s, so the voices under it turn to %s, with %s kept in place of %s, giving %s.",
		sp.lead.Name(), how, chord, c.note, c.instead, name)
}

// approachReason explains the approaches that are no slides by one interval.
func (w *writer) approachReason(i int, c *candidate, name string) string {
	sp := &w.q.spots[i]
	lead := sp.lead.Name()
	switch c.origin {
	case fromScale:
		return fmt.Sprintf("%s leads to %s by a step of the scale, so every voice of the block, %s, takes its own step into %s.",
			lead, w.q.spots[i+1].lead.Name(), name, w.target(i, c))
	case fromDominant:
		next := &w.q.spots[i+1]
		return fmt.Sprintf("%s leads into %s, so it takes the diminished chord %s that leads there, %s.",
			lead, w.chord(next.chord), w.family(c.service.Family).away, name)
	}
	return fmt.Sprintf("%s is not on the family of %s; it passes on the diminished chord over the root, %s, which keeps %s and resolves around it.",
		lead, w.chord(sp.heard), name, sp.heard.Root())
}

// blueReason explains a blue note.
func (w *writer) blueReason(sp *spot, name string) string {
	which := "third"
	if (sp.lead.Name().PC()-sp.heard.Root().PC()+12)%12 == 6 {
		which = "fifth"
	}
	return fmt.Sprintf("%s is the blue %s of %s; it stands over the dominant's own notes, giving %s.",
		sp.lead.Name(), which, w.chord(sp.heard), name)
}

// runReason explains a lead that is thinned to itself in a fast run.
func (w *writer) runReason(sp *spot, c *candidate) string {
	how := "the lead plays alone"
	if c.voicing == theory.Octaves {
		how = "the lead is doubled in octaves"
	}
	return fmt.Sprintf("The run is fast (%.2f seconds a note), so here %s and the blocks wait for the accents.", w.q.stage.seconds(sp), how)
}
