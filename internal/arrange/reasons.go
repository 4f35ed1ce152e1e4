package arrange

import (
	"fmt"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// block writes a candidate of note i as a reader sees it, name and reason
// included. Only blocks that are shown get here, so the search never pays for
// prose.
func (w *writer) block(i int, c *candidate) Block {
	sp := &w.q.spots[i]
	b := Block{Technique: c.technique, Voicing: c.voicing, Voices: c.voices}
	if usesFamily(c) {
		b.Family = c.service.Family
	}
	b.Name = w.name(sp, c)
	b.Reason = w.reason(i, c, b.Name)
	return b
}

func usesFamily(c *candidate) bool {
	return c.technique == theory.Home || c.technique == theory.Away || c.technique == theory.Borrowed
}

// name reads a block as a chord: over the sounding root where it stands for
// the symbol, over its own root where it passes.
func (w *writer) name(sp *spot, c *candidate) string {
	switch {
	case c.technique == theory.Alone:
		return sp.lead.Name().String()
	case c.origin == fromDominant:
		return w.family(c.service.Family).dominant
	case c.origin == fromTurn && c.chordSide == theory.Away && !c.service.Leading:
		return theory.NameBlock(c.voices, c.service.Family.Dominant().Root())
	case c.technique == theory.Approach, !playable(sp.chord):
		return ownName(c)
	case c.technique == theory.Home && c.service.Leading:
		return w.family(c.service.Family).home
	case c.technique == theory.Away && !c.service.Leading:
		return w.family(c.service.Family).dominant
	}
	return theory.NameBlock(c.voices, sp.heard.Root()) + w.bassWords(sp)
}

// bassWords writes a bass other than the root behind a name: what sounds under
// the block.
func (w *writer) bassWords(sp *spot) string {
	if sp.heard != sp.chord || !sp.chord.HasSlash() {
		return ""
	}
	return "/" + sp.chord.Bass().String()
}

// ownName names a block over the voice that makes the plainest chord of it;
// the lower voice wins a draw.
func ownName(c *candidate) string {
	best := ""
	for k := c.n - 1; k >= 0; k-- {
		name := theory.NameBlock(c.voices, c.voices[k].Name())
		if best == "" || len(name) < len(best) {
			best = name
		}
	}
	return best
}

// reason writes the sentence for a candidate of note i.
func (w *writer) reason(i int, c *candidate, name string) string {
	sp := &w.q.spots[i]
	text := w.plainReason(i, c, name)
	text += w.keptWords(sp, c)
	if c.opens {
		text += fmt.Sprintf(" The phrase reaches its top here, so the voicing opens to %s.", voicingWord(c.voicing))
	}
	if c.pinned && c.origin != fromPin {
		text = pinnedWords(sp.pin) + text
	}
	if sp.anticipates {
		text = fmt.Sprintf("The note comes early and takes the chord it leads into, %s. %s", w.chord(sp.chord), text)
	}
	return text
}

// pinnedWords says what the user fixed.
func pinnedWords(p *project.Pin) string {
	switch p.Strength {
	case project.PinVoicing:
		return fmt.Sprintf("You pinned the voicing, %s. ", voicingWord(p.Voicing))
	case project.PinTechnique:
		return fmt.Sprintf("You pinned the technique, %s. ", p.Technique)
	}
	return "You pinned this block. "
}

// keptWords says which voices a thin voicing keeps of the block that the reason
// speaks of.
func (w *writer) keptWords(sp *spot, c *candidate) string {
	switch {
	case sp.thin == thinPair && c.voicing == theory.Pair && c.n == 2:
		return fmt.Sprintf(" The run is fast (%.2f seconds a note), so off its accents only the lead and %s are played.",
			w.q.stage.seconds(sp), c.voices[1].Name())
	case c.technique == theory.Alone:
		return ""
	case c.voicing == theory.ThreePart && c.n == 3:
		return " Of the block the lead and the guide notes are kept."
	case c.voicing == theory.Pair && c.n == 2:
		return fmt.Sprintf(" Of the block the lead and %s are kept.", c.voices[1].Name())
	}
	return ""
}

func (w *writer) plainReason(i int, c *candidate, name string) string {
	sp := &w.q.spots[i]
	switch c.origin {
	case fromFamily:
		return w.familyReason(sp, c, name)
	case fromLead:
		return w.borrowedLeadReason(sp, c, name)
	case fromInner:
		return w.borrowedInnerReason(sp, c, name)
	case fromTwo:
		return w.borrowedTwoReason(sp, c, name)
	case fromTurn:
		return w.turnReason(sp, c, name)
	case fromScale, fromDominant, fromCommonTone:
		return w.approachReason(i, c, name)
	case fromBlue:
		return w.blueReason(sp, name)
	case fromRun:
		return w.runReason(sp, c)
	case fromSymbol:
		return w.symbolReason(sp, c, name)
	case fromNext:
		return w.slideReason(i, c, name)
	case fromNoChord:
		return noChordReason(sp)
	case fromPlan:
		return w.planReason(sp, c)
	case fromRegister:
		return thinReason(sp, c, c == &w.q.cands[i][w.q.chosen[i]])
	}
	if !playable(sp.chord) || c.n == 1 {
		return "You pinned these voices."
	}
	return fmt.Sprintf("You pinned these voices; over %s they sound as %s.", sp.heard.Root(), name)
}

// familyReason explains the family's own block.
func (w *writer) familyReason(sp *spot, c *candidate, name string) string {
	lead, f := sp.lead.Name(), c.service.Family
	words, heard := w.family(f), w.chord(sp.heard)
	place := degreeWord(f.HomeChord(), lead)
	switch {
	case c.technique == theory.Home && c.service.Leading:
		return fmt.Sprintf("%s passes over %s as %s of %s, %s, so that the inner voices move with it.",
			lead, heard, place, words.home, w.lender(sp, c, words.home))
	case c.technique == theory.Home && words.home == heard:
		return fmt.Sprintf("%s is %s of %s, so the block is the home chord itself with %s on top.",
			lead, place, heard, lead)
	case c.technique == theory.Home:
		return fmt.Sprintf("%s is %s of %s, the home chord that serves %s; over %s it sounds as %s.",
			lead, place, words.home, heard, sp.heard.Root(), name)
	case c.service.Leading:
		return fmt.Sprintf("%s is in the diminished chord %s that stands for %s on its way to %s, so the block is that chord, %s.",
			lead, words.away, heard, w.goal(sp, words.home), name)
	}
	return fmt.Sprintf("%s is not in %s; it passes on the diminished chord %s, which is %s without its root and leads back to %s.",
		lead, words.home, words.away, name, words.home)
}

// borrowedLeadReason explains a lead put on the family's other chord.
func (w *writer) borrowedLeadReason(sp *spot, c *candidate, name string) string {
	lead, words := sp.lead.Name(), w.family(c.service.Family)
	if !c.service.Leading {
		place := fmt.Sprintf("%s is not in %s", lead, words.home)
		if hasPC(sp.tones, lead) {
			place = fmt.Sprintf("%s is %s of %s but not in %s", lead, degreeWord(sp.heard, lead), w.chord(sp.heard), words.home)
		}
		return fmt.Sprintf("%s, so it is borrowed onto the home chord in place of %s, giving %s.", place, c.instead, name)
	}
	return fmt.Sprintf("%s is not in the diminished chord %s that stands for %s. It is borrowed from %s, %s, and takes the place of %s, giving %s.",
		lead, words.away, w.chord(sp.heard), words.home, w.lender(sp, c, words.home), c.instead, name)
}

// lender says what the home chord of a leading family is to the span.
func (w *writer) lender(sp *spot, c *candidate, home string) string {
	goal := w.goal(sp, home)
	switch {
	case c.service.Family == sp.reading.otherMode.Family:
		return fmt.Sprintf("the other mode of %s, the chord being led to", goal)
	case goal == home:
		return "the chord being led to"
	}
	return fmt.Sprintf("which stands for %s, the chord being led to", goal)
}

// borrowedInnerReason explains an inner voice taken from the other chord.
func (w *writer) borrowedInnerReason(sp *spot, c *candidate, name string) string {
	words := w.family(c.service.Family)
	chord, other := words.home, "the diminished chord "+words.away
	if c.chordSide == theory.Away {
		chord, other = other, chord
	}
	return fmt.Sprintf("Under %s, %s is borrowed from %s in place of %s in %s, giving %s, so that the inner voices move.",
		sp.lead.Name(), c.note, other, c.instead, chord, name)
}

// symbolReason explains a block of the chord symbol's own notes.
func (w *writer) symbolReason(sp *spot, _ *candidate, name string) string {
	lead, heard := sp.lead.Name(), w.chord(sp.heard)
	if !sp.customary() {
		return fmt.Sprintf("%s is not a note of %s; it stands over the chord's own notes, giving %s.",
			lead, heard, name)
	}
	return fmt.Sprintf("%s is %s of %s; the block is made of the chord's own notes, giving %s.",
		lead, degreeWord(sp.heard, lead), heard, name)
}

// slideReason explains a parallel approach.
func (w *writer) slideReason(i int, c *candidate, name string) string {
	lead, next := w.q.spots[i].lead, w.q.spots[i+1].lead
	size, direction := "semitone", "up"
	if distance(int16(lead.Key()), int16(next.Key())) == 2 {
		size = "whole tone"
	}
	if next.Key() < lead.Key() {
		direction = "down"
	}
	target := w.target(i, c)
	if text := w.encloses(i); text != "" {
		return fmt.Sprintf("%s, so the whole block, %s, moves into %s in parallel.", text, name, target)
	}
	return fmt.Sprintf("%s leads to %s by a %s, so the whole block, %s, slides %s into %s in parallel.",
		lead.Name(), next.Name(), size, name, direction, target)
}

func noChordReason(sp *spot) string {
	if sp.chord.IsNone() {
		return "No chord is in force (N.C.), so the lead plays alone."
	}
	return "The chart has no chords, so the lead plays alone."
}

func (w *writer) planReason(sp *spot, c *candidate) string {
	switch {
	case sp.passage.Plan == project.SoloOverComp:
		return fmt.Sprintf("The right hand plays the lead alone while the left hand comps %s.", w.chord(sp.chord))
	case c.voicing == theory.Octaves:
		return fmt.Sprintf("The passage is voiced in octaves, so %s is doubled an octave lower.", sp.lead.Name())
	}
	return "The passage is voiced in unison, so the lead plays alone."
}

// thinReason explains a bare lead where a block would be possible; chosen tells
// whether the search itself took it.
func thinReason(sp *spot, c *candidate, chosen bool) string {
	how := "the lead plays alone"
	if c.voicing == theory.Octaves {
		how = "the lead is doubled in octaves"
	}
	switch {
	case sp.lead.Key() < lowestBlockLead:
		return fmt.Sprintf("%s is too low for a block: its lower voices would be muddy, so %s.", sp.lead, how)
	case sp.lead.Key() > highestBlockLead:
		return fmt.Sprintf("%s is above the range of a block, so %s.", sp.lead, how)
	case !chosen:
		return fmt.Sprintf("Thinned for a lighter sound: %s.", how)
	}
	return fmt.Sprintf("No block fits well under %s here, so %s.", sp.lead, how)
}
