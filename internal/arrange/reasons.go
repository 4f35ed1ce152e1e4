package arrange

import (
	"fmt"
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// block writes a candidate of note i as a reader sees it, name and reason
// included. Only blocks that are shown get here, so the search never pays for
// prose.
func (q *search) block(i int, c *candidate) Block {
	sp := &q.spots[i]
	b := Block{Technique: c.technique, Voicing: c.voicing, Voices: c.voices}
	if usesFamily(c) {
		b.Family = c.service.Family
	}
	b.Name = nameOf(sp, c)
	b.Reason = q.reason(i, c, b.Name)
	return b
}

func usesFamily(c *candidate) bool {
	return c.technique == theory.Home || c.technique == theory.Away || c.technique == theory.Borrowed
}

// nameOf reads a block as a chord: over the sounding root where it stands for
// the symbol, over its own root where it passes.
func nameOf(sp *spot, c *candidate) string {
	switch {
	case c.technique == theory.Alone:
		return sp.lead.Name().String()
	case c.technique == theory.Approach:
		return ownName(c)
	case c.technique == theory.Home && c.service.Leading:
		return c.service.Family.HomeChord().String()
	case c.technique == theory.Away && !c.service.Leading:
		return c.service.Family.Dominant().String()
	case !playable(sp.chord):
		return ownName(c)
	}
	return theory.NameBlock(c.voices, sp.heard.Root())
}

// ownName names a block over the voice that makes the plainest chord of it.
func ownName(c *candidate) string {
	best := ""
	for _, v := range c.voices {
		if name := theory.NameBlock(c.voices, v.Name()); best == "" || plainer(name, best) {
			best = name
		}
	}
	return best
}

// plainer reports whether a is the plainer of two chord names: fewer
// additions, then the shorter.
func plainer(a, b string) bool {
	x, y := complexity(a), complexity(b)
	return x < y || x == y && len(a) < len(b)
}

func complexity(name string) int {
	return strings.Count(name, "add")*2 + strings.Count(name[1:], "#") + strings.Count(name[1:], "b") - strings.Count(name, "m7b5")
}

// reason writes the sentence for a candidate of note i.
func (q *search) reason(i int, c *candidate, name string) string {
	sp := &q.spots[i]
	text := q.plainReason(i, c, name)
	if c.pinned {
		text = "You pinned this block. " + text
	}
	if sp.anticipates {
		text = fmt.Sprintf("The note comes early and takes the chord it leads into, %s. %s", sp.chord, text)
	}
	return text
}

func (q *search) plainReason(i int, c *candidate, name string) string {
	sp := &q.spots[i]
	lead := sp.lead.Name()
	switch c.origin {
	case fromFamily:
		return familyReason(sp, c, name)
	case fromLead:
		return borrowedLeadReason(sp, c, name)
	case fromInner:
		return borrowedInnerReason(sp, c, name)
	case fromSymbol:
		return fmt.Sprintf("%s is harmonised with the notes of %s itself, giving %s.", lead, sp.heard, name)
	case fromNext:
		return q.slideReason(i, c, name)
	case fromNoChord:
		return noChordReason(sp)
	case fromPlan:
		return planReason(sp, c)
	case fromRegister:
		return thinReason(sp, c)
	}
	return fmt.Sprintf("The voices are your own; over %s they sound as %s.", rootOf(sp), name)
}

func rootOf(sp *spot) string {
	if !playable(sp.heard) {
		return "no chord"
	}
	return sp.heard.Root().String()
}

// familyReason explains the family's own block.
func familyReason(sp *spot, c *candidate, name string) string {
	lead, f := sp.lead.Name(), c.service.Family
	home, away := f.HomeChord(), spell(f.Away())
	switch {
	case c.technique == theory.Home && c.service.Leading:
		return fmt.Sprintf("%s passes over %s on %s of %s, the chord being led to, so that the inner voices move with it.",
			lead, sp.heard, degreeWord(f, lead), home)
	case c.technique == theory.Home && home.String() == name:
		return fmt.Sprintf("%s is %s of %s, the home chord that serves %s, so the block is %s with %s on top.",
			lead, degreeWord(f, lead), home, sp.heard, home, lead)
	case c.technique == theory.Home:
		return fmt.Sprintf("%s is %s of %s, the home chord that serves %s; over %s it sounds as %s.",
			lead, degreeWord(f, lead), home, sp.heard, sp.heard.Root(), name)
	case c.service.Leading:
		return fmt.Sprintf("%s is in the diminished chord %s that stands for %s on its way to %s, so the block is that chord, %s.",
			lead, away, sp.heard, f.HomeChord(), name)
	}
	return fmt.Sprintf("%s is not in %s; it passes over the diminished chord %s between its notes, which is %s without its root and leads back to %s.",
		lead, home, away, name, home)
}

// degreeWord names a note's place in the family's home chord.
func degreeWord(f theory.Family, n theory.Name) string {
	words := [4]string{"the root", "the third", "the fifth", "the sixth"}
	if f.Sixth() == theory.DominantFamily || f.Sixth() == theory.DominantFlatFiveFamily {
		words[3] = "the seventh"
	}
	step, _ := f.StepOf(n.PC())
	return words[step/2]
}

// borrowedLeadReason explains a lead put on the family's other chord.
func borrowedLeadReason(sp *spot, c *candidate, name string) string {
	f := c.service.Family
	lead := sp.lead.Name()
	if c.service.Leading {
		lender := "the chord being led to"
		if c.otherMode {
			lender = "the other mode of the chord being led to"
		}
		return fmt.Sprintf("%s is not in the diminished chord %s that stands for %s. It is borrowed from %s, %s, and takes the place of %s, giving %s.",
			lead, spell(f.Away()), sp.heard, f.HomeChord(), lender, c.instead, name)
	}
	if c.chordSide == theory.Home {
		return fmt.Sprintf("%s is not in %s, but it rests here, so it is borrowed onto the home chord in place of %s, giving %s.",
			lead, f.HomeChord(), c.instead, name)
	}
	return fmt.Sprintf("%s is put on the diminished chord %s in place of %s, giving %s.",
		lead, spell(f.Away()), c.instead, name)
}

// borrowedInnerReason explains an inner voice taken from the other chord.
func borrowedInnerReason(sp *spot, c *candidate, name string) string {
	f := c.service.Family
	chord, other := f.HomeChord().String(), "the diminished chord "+spell(f.Away())
	if c.chordSide == theory.Away {
		chord, other = "the diminished chord "+spell(f.Away()), f.HomeChord().String()
	}
	return fmt.Sprintf("Under %s, %s is borrowed from %s in place of %s in %s, giving %s, so that the inner voices move.",
		sp.lead.Name(), c.note, other, c.instead, chord, name)
}

// slideReason explains a parallel approach.
func (q *search) slideReason(i int, c *candidate, name string) string {
	lead, next := q.spots[i].lead, q.spots[i+1].lead
	size, direction := "semitone", "up"
	if d := next.Key() - lead.Key(); d == 2 || d == -2 {
		size = "whole tone"
	}
	if next.Key() < lead.Key() {
		direction = "down"
	}
	target := nameOf(&q.spots[i+1], &q.cands[i+1][c.into])
	return fmt.Sprintf("%s leads to %s by a %s, so the whole block, %s, slides %s into %s in parallel.",
		lead.Name(), next.Name(), size, name, direction, target)
}

func noChordReason(sp *spot) string {
	if sp.chord.IsNone() {
		return "No chord is in force (N.C.), so the lead plays alone."
	}
	return "The chart has no chords, so the lead plays alone."
}

func planReason(sp *spot, c *candidate) string {
	switch {
	case sp.passage.Plan == project.SoloOverComp:
		return fmt.Sprintf("The right hand plays the lead alone while the left hand comps %s.", sp.chord)
	case c.voicing == theory.Octaves:
		return fmt.Sprintf("The passage is voiced in octaves, so %s is doubled an octave lower.", sp.lead.Name())
	}
	return "The passage is voiced in unison, so the lead plays alone."
}

func thinReason(sp *spot, c *candidate) string {
	how := "the lead plays alone"
	if c.voicing == theory.Octaves {
		how = "the lead is doubled in octaves"
	}
	switch {
	case sp.lead.Key() < lowestBlockLead:
		return fmt.Sprintf("%s is too low for a block: its lower voices would be muddy, so %s.", sp.lead, how)
	case sp.lead.Key() > highestBlockLead:
		return fmt.Sprintf("%s is above the range of a block, so %s.", sp.lead, how)
	}
	return fmt.Sprintf("No block fits well under %s here, so %s.", sp.lead, how)
}

// spell writes note names with spaces between.
func spell(names [4]theory.Name) string {
	var b strings.Builder
	for i, n := range names {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(n.String())
	}
	return b.String()
}
