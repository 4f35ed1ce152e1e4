package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// block writes a candidate of note i as a reader sees it, name and reason
// included. Only blocks that are shown get here, so the search never pays for
// prose; and of the reasons only the facts are kept, since every edit writes the
// blocks of the whole chart, and a reader looks at one or two.
func (w *writer) block(i int, c *candidate) Block {
	sp := &w.q.spots[i]
	b := Block{Technique: c.technique, Voicing: c.voicing, Voices: c.voices}
	if usesFamily(c) {
		b.Family = c.service.Family
	}
	b.Name = w.name(sp, c)
	b.Reason = phrase.Later(&reason{w.q, i, c, b.Name})
	return b
}

// reason is all that the reason for a block follows from. Nothing of a search
// changes once its steps are written, so the words are the same whenever they
// are asked for, and whoever asks.
type reason struct {
	search *search
	spot   int
	block  *candidate
	name   string
}

// Phrase puts the reason into words.
func (r *reason) Phrase() phrase.Phrase {
	return r.search.writer().reason(r.spot, r.block, r.name)
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
		return w.family(c.service.Family).dominant.String()
	case c.origin == fromTurn && c.chordSide == theory.Away && !c.service.Leading:
		return theory.NameBlock(c.voices, c.service.Family.Dominant().Root())
	case c.technique == theory.Approach, !playable(sp.chord):
		return ownName(c)
	case c.technique == theory.Home && c.service.Leading:
		return w.family(c.service.Family).home.String()
	case c.technique == theory.Away && !c.service.Leading:
		return w.family(c.service.Family).dominant.String()
	}
	return theory.NameBlock(c.voices, sp.heard.Root()) + bassWords(sp)
}

// bassWords writes a bass other than the root behind a name: what sounds under
// the block. Where a two is played as its five the bass stays on the two.
func bassWords(sp *spot) string {
	bass := sp.chord.Bass()
	if bass.PC() == sp.heard.Root().PC() {
		return ""
	}
	return "/" + bass.String()
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

// reason writes the sentence for a candidate of note i: the lead over its chord,
// a colon, and why the block is what it is.
func (w *writer) reason(i int, c *candidate, name string) phrase.Phrase {
	sp := &w.q.spots[i]
	why, kept := w.plainReason(i, c, name), w.keptWords(sp, c)
	text := phrase.Of("%s.%s", why, kept)
	if playable(sp.chord) {
		text = phrase.Of("%s: %s.%s", w.opening(sp, c), why, kept)
	}
	if sp.climax && c.n > 1 && c.voicing == opened(sp.passage.Treatment.Voicing) {
		text = phrase.Of("%s The phrase reaches its top here, so the voicing grows to %s.", text, voicingPhrase(c.voicing))
	}
	if c.pinned {
		text = phrase.Of("%s %s", pinnedWords(sp.pin, c), text)
	}
	return text
}

// opening places a lead over its chord: "D over Gm6".
func (w *writer) opening(sp *spot, c *candidate) phrase.Phrase {
	form := "%s over %s"
	switch {
	case sp.held():
		form = "%s held over %s"
	case c.origin == fromTurn:
		form = "%s again over %s"
	}
	text := phrase.Of(form, sp.lead.Name(), w.chord(sp.chord))
	if sp.heard != sp.chord {
		text = phrase.Of("%s, played as %s", text, w.chord(sp.heard))
	}
	if sp.anticipates {
		text = phrase.Of("%s, which it anticipates", text)
	}
	return text
}

// pinnedWords says what the user fixed.
func pinnedWords(p *project.Pin, c *candidate) phrase.Phrase {
	switch {
	case p.Strength == project.PinVoicing:
		return phrase.Of("You pinned the voicing, %s.", voicingPhrase(p.Voicing))
	case p.Strength == project.PinTechnique:
		return phrase.Of("You pinned the technique, %s.", phrase.Of(p.Technique.String()))
	case c.origin == fromPin:
		return phrase.Of("You pinned these voices.")
	}
	return phrase.Of("You pinned this block.")
}

// keptWords says which voices a thin voicing keeps of the block that the reason
// speaks of.
func (w *writer) keptWords(sp *spot, c *candidate) phrase.Phrase {
	switch {
	case sp.thin == thinPair && c.voicing == theory.Pair && c.n == 2:
		return phrase.Of(" The run is fast (%s seconds a note), so off its accents only the lead and %s are played.",
			phrase.Decimal(w.q.stage.seconds(sp), 2), c.voices[1].Name())
	case c.technique == theory.Alone:
		return phrase.Phrase{}
	case c.voicing == theory.ThreePart && c.n == 3:
		return phrase.Of(" Of the block the lead and the guide notes are kept%s.", lowWords(c))
	case c.voicing == theory.Pair && c.n == 2:
		return phrase.Of(" Of the block the lead and %s are kept%s.", c.voices[1].Name(), lowWords(c))
	}
	return phrase.Phrase{}
}

// lowWords says why a block was thinned, where its register asked for that.
func lowWords(c *candidate) phrase.Phrase {
	if c.thinned {
		return phrase.Of(", because the whole block would be muddy down here")
	}
	return phrase.Phrase{}
}

func (w *writer) plainReason(i int, c *candidate, name string) phrase.Phrase {
	sp := &w.q.spots[i]
	if c.technique == theory.Approach && bare(c) { // into a lead that is bare itself
		return thinReason(sp, c, true)
	}
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
		return w.turnReason(c, name)
	case fromScale, fromDominant, fromCommonTone, fromDiminished:
		return w.approachReason(i, c, name)
	case fromBlue:
		return w.blueReason(sp, name)
	case fromRun:
		return w.runReason(sp, c)
	case fromSymbol:
		return w.symbolReason(sp, name)
	case fromNext:
		return w.slideReason(i, c, name)
	case fromNoChord:
		return noChordReason(sp)
	case fromPlan:
		return w.planReason(sp, c)
	case fromRegister:
		return thinReason(sp, c, c == &w.q.cands[i][w.q.chosen[i]])
	}
	return w.ownReason(sp, c, name)
}

// ownReason describes voices that nothing but the user's own choice explains.
func (w *writer) ownReason(sp *spot, c *candidate, name string) phrase.Phrase {
	switch {
	case !playable(sp.chord):
		return phrase.Of("No chord is in force, so they explain themselves")
	case c.n == 1:
		return phrase.Of("the lead alone")
	}
	return phrase.Of("%s of the chord, with voices of your own under it, giving %s", degreeWord(sp.heard, sp.lead.Name()), name)
}

// familyReason explains the family's own block.
func (w *writer) familyReason(sp *spot, c *candidate, name string) phrase.Phrase {
	lead, words := sp.lead.Name(), w.family(c.service.Family)
	place := degreeWord(c.service.Family.HomeChord(), sp.lead.Name())
	switch {
	case c.technique == theory.Home && c.service.Leading:
		return phrase.Of("not in the diminished chord; it passes as %s of %s, %s, so that the inner voices move with it",
			place, words.home, w.lender(sp, c, words.home))
	case c.technique == theory.Home:
		return w.homeReason(sp, phrase.Of("%s of the family's home chord, so %s with %s on top", place, words.home, lead), words.home, name)
	case c.service.Leading && isDiminished(sp.heard):
		return phrase.Of("a note of the diminished chord itself, which leads to %s, so %s with %s on top", w.goal(sp, words.home), name, lead)
	case c.service.Leading:
		return phrase.Of("in the diminished chord %s, which stands for %s on its way to %s, so %s with %s on top",
			words.away, w.chord(sp.heard), w.goal(sp, words.home), name, lead)
	}
	return phrase.Of("not in %s; it passes on the family's diminished chord %s, which is %s without its root and leads back to %s",
		w.homeWords(sp, words.home), words.away, words.dominant, words.home)
}

// homeReason adds to why a home chord stands what it is to a symbol that is not
// written like it.
func (w *writer) homeReason(sp *spot, why, home phrase.Phrase, name string) phrase.Phrase {
	switch itself := name == home.String(); {
	case isMinorSeventh(sp.heard) && itself:
		return phrase.Of("%s; as a tonic %s rests on the sixth in place of its seventh", why, w.chord(sp.heard))
	case itself:
		return why
	}
	return phrase.Of("%s; over %s it sounds as %s", why, sp.chord.Bass(), name)
}

// homeWords names a family's home chord, by its symbol where it is written unlike
// the chord in force.
func (w *writer) homeWords(sp *spot, home phrase.Phrase) phrase.Phrase {
	if home.String() == w.chord(sp.heard).String() {
		return phrase.Of("the home chord")
	}
	return phrase.Of("the home chord %s", home)
}

// borrowedLeadReason explains a lead put on the family's other chord.
func (w *writer) borrowedLeadReason(sp *spot, c *candidate, name string) phrase.Phrase {
	lead, words := sp.lead.Name(), w.family(c.service.Family)
	switch {
	case c.service.Leading && c.service.Family == sp.reading.otherMode.Family:
		return phrase.Of("not in the diminished chord; borrowed from %s, the other mode of %s, in place of %s, giving %s",
			words.home, w.goal(sp, words.home), c.instead, name)
	case c.service.Leading:
		return phrase.Of("not in the diminished chord; borrowed from %s in place of %s, giving %s", words.home, c.instead, name)
	case hasPC(sp.tones, lead):
		return phrase.Of("%s, but not in %s; borrowed onto it in place of %s, giving %s",
			degreeWord(sp.heard, lead), w.homeWords(sp, words.home), c.instead, name)
	}
	return phrase.Of("not in %s; borrowed onto it in place of %s, giving %s", w.homeWords(sp, words.home), c.instead, name)
}

// lender says what the home chord of a leading family is to the span.
func (w *writer) lender(sp *spot, c *candidate, home phrase.Phrase) phrase.Phrase {
	goal := w.goal(sp, home)
	switch {
	case c.service.Family == sp.reading.otherMode.Family:
		return phrase.Of("the other mode of %s, the chord being led to", goal)
	case goal.String() == home.String():
		return phrase.Of("the chord being led to")
	}
	return phrase.Of("which stands for %s, the chord being led to", goal)
}

// sides names the chord that a block is made of, and the one that a voice is
// borrowed from.
func (w *writer) sides(c *candidate) (own, other phrase.Phrase) {
	words := w.family(c.service.Family)
	own, other = words.home, phrase.Of("the diminished chord %s", words.away)
	if c.chordSide == theory.Away {
		own, other = other, own
	}
	return own, other
}

// borrowedInnerReason explains an inner voice taken from the other chord.
func (w *writer) borrowedInnerReason(sp *spot, c *candidate, name string) phrase.Phrase {
	own, other := w.sides(c)
	return phrase.Of("in %s; under it %s is borrowed from %s in place of %s, giving %s",
		own, c.note, other, c.instead, name)
}

// symbolReason explains a block of the chord symbol's own notes.
func (w *writer) symbolReason(sp *spot, name string) phrase.Phrase {
	if !sp.customary() {
		return phrase.Of("not a note of it; it stands over the chord's own notes, giving %s", name)
	}
	return phrase.Of("%s, over the chord's own notes, giving %s", degreeWord(sp.heard, sp.lead.Name()), name)
}

// slideReason explains a parallel approach.
func (w *writer) slideReason(i int, c *candidate, name string) phrase.Phrase {
	target, reached := w.target(i, c)
	if text := w.encloses(i); !text.IsZero() && reached && !c.back {
		return phrase.Of("%s, so the whole block, %s, moves into %s in parallel", text, name, target)
	}
	lead, next := w.q.spots[i].lead, w.landing(i, c).lead
	size, direction := phrase.Of("a semitone"), phrase.Of("up")
	if distance(int16(lead.Key()), int16(next.Key())) == 2 {
		size = phrase.Of("a whole tone")
	}
	if next.Key() < lead.Key() {
		direction = phrase.Of("down")
	}
	form := "it leads to %s by %s, so the whole block, %s, slides %s into %s"
	if !reached {
		form = "it leads to %s by %s; the whole block, %s, would slide %s into %s, but that note has another block now"
	}
	return phrase.Of(form, next.Name(), size, name, direction, target)
}

func noChordReason(sp *spot) phrase.Phrase {
	if sp.chord.IsNone() {
		return phrase.Of("No chord is in force (N.C.), so the lead plays alone")
	}
	return phrase.Of("The chart has no chords, so the lead plays alone")
}

func (w *writer) planReason(sp *spot, c *candidate) phrase.Phrase {
	switch {
	case sp.passage.Plan == project.SoloOverComp:
		return phrase.Of("the right hand plays the lead alone while the left hand comps")
	case c.voicing == theory.Octaves:
		return phrase.Of("the passage is voiced in octaves, so the lead is doubled an octave lower")
	}
	return phrase.Of("the passage is voiced in unison, so the lead plays alone")
}

// bare reports whether a block is nothing but its lead, in one octave or more.
func bare(c *candidate) bool {
	for k := 1; k < c.n; k++ {
		if (c.keys[0]-c.keys[k])%12 != 0 {
			return false
		}
	}
	return true
}

// thinReason explains a bare lead where a block would be possible; chosen tells
// whether the search itself took it.
func thinReason(sp *spot, c *candidate, chosen bool) phrase.Phrase {
	how := phrase.Of("the lead plays alone")
	if c.n == 2 {
		how = phrase.Of("the lead is doubled in octaves")
	}
	low, high := sp.passage.Treatment.BlockRange()
	switch key := sp.lead.Key(); {
	case key < project.LowestBlockLead:
		return phrase.Of("%s is too low for a block, whose lower voices would be muddy, so %s", sp.lead, how)
	case key > project.HighestBlockLead:
		return phrase.Of("%s is above the range of a block, so %s", sp.lead, how)
	case key < low || key > high:
		return phrase.Of("%s is outside the range that the passage gives to blocks, so %s", sp.lead, how)
	case !chosen:
		return phrase.Of("thinned for a lighter sound, so %s", how)
	}
	return phrase.Of("no block fits well under it here, so %s", how)
}
