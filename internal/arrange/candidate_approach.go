package arrange

import "organbook/internal/theory"

// Approaches to the next note other than a parallel slide by one interval: along
// the scale, by the next chord's dominant, and by a diminished chord that shares
// a note with the chord in force; and blue notes, which approach nothing but
// stand against the dominant they colour.

// scaleSlides offers the next note's cheapest block moved along the scale of the
// key: every voice by one step, as a section plays scale passages. Only short
// notes outside the chord take it (see approachable): the steps are whole tones
// as often as semitones, and a chord note in parallel whole tones is heard as
// another chord.
func (m *maker) scaleSlides(nextLead theory.Pitch, next []candidate) {
	key := m.stage.keyAt(m.spot.note.Start)
	if len(next) == 0 || !m.approachable() || !key.IsValid() || m.onFamily() || m.inOtherMode() {
		return
	}
	direction := 1
	if m.spot.lead.Key() < nextLead.Key() {
		direction = -1
	}
	for _, i := range cheapest(next, 1) {
		voices := alongScale(next[i].voices, key, direction)
		if voices == nil || voices[0].Key() != m.spot.lead.Key() {
			continue
		}
		voices[0] = m.spot.lead
		m.addSpread(candidate{origin: fromScale, technique: theory.Approach, voicing: next[i].voicing, into: i + 1},
			voices, pay(chargeSlide, slideAlongScale).plus(chargeUnrest, m.spot.restless))
	}
}

// signature returns the pitch classes of a key's signature.
func signature(key theory.Key) (set theory.PCSet) {
	for f := key.Fifths() - 1; f <= key.Fifths()+5; f++ {
		set = set.With(theory.NameFromFifths(f).PC())
	}
	return set
}

// alongScale moves every voice by a step of the signature, up or down, and
// returns nil where a voice is not on it or leaves the keys.
func alongScale(block []theory.Pitch, key theory.Key, direction int) []theory.Pitch {
	scale := signature(key)
	out := make([]theory.Pitch, len(block))
	for i, v := range block {
		if !scale.Has(v.Key()) {
			return nil
		}
		to := v.Key() + direction
		for !scale.Has(to) {
			to += direction
		}
		if out[i] = theory.PitchAt(key.Spell(to), to); !out[i].IsValid() {
			return nil
		}
	}
	return out
}

// byDominant offers the away chord of the next note's family, its dominant with
// a flat ninth, where the next note brings another chord and this one leads into
// it from a note of that dominant. It is for short notes outside the chord only
// (see approachable): a note of the chord in force belongs to that chord, and
// on a long one the change would be heard too early.
func (m *maker) byDominant(next *spot) {
	if !m.approachable() || next.span == m.spot.span || !playable(next.chord) || len(next.services) == 0 || next.services[0].Leading {
		return
	}
	sv := next.services[0]
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok || side != theory.Away {
		return
	}
	cost := approachUnasked
	if !m.onFamily() {
		cost = approachByDominant
	}
	m.add(candidate{origin: fromDominant, technique: theory.Approach, service: servingOf(sv), chordSide: side}, voices,
		pay(chargeSlide, cost).plus(chargeUnrest, m.spot.restless))
}

// commonTone offers the diminished chord on the root of a major chord or
// dominant under a note that is off the family but in that chord: it keeps the
// root and resolves into the chord around it, where the lead moves on by step. It
// may last: what resolves is a suspension of the chord, not another chord.
func (m *maker) commonTone(next *spot) {
	c := m.spot.heard
	step := distance(int16(m.spot.lead.Key()), int16(next.lead.Key()))
	if m.onFamily() || m.inOtherMode() || !c.Has(3, 0) || next.span != m.spot.span || step < 1 || step > 2 {
		return
	}
	root := c.Root()
	names := []theory.Name{root, degreeName(c, degreeForm{9, 1}), degreeName(c, degreeForm{11, 1}), degreeName(c, degreeForm{13, 0})}
	if !hasPC(names[1:3], m.spot.lead.Name()) {
		return
	}
	m.add(candidate{origin: fromCommonTone, technique: theory.Approach}, theory.Stack(m.spot.lead, names...),
		pay(chargeSlide, commonToneApproach).plus(chargeUnrest, m.spot.restless))
}

// diminished hangs a diminished seventh under a passing note that is on no chord
// of the family and moves on by whatever interval: of all chords it contradicts
// the one in force least, because each of its notes lies a semitone from one of
// that chord or in it.
func (m *maker) diminished() {
	if !m.approachable() || m.onFamily() || m.inOtherMode() {
		return
	}
	lead := m.spot.lead
	key := m.spot.reading.key
	if !key.IsValid() {
		key = theory.NewKey(m.spot.heard.Root(), theory.Major)
	}
	voices := []theory.Pitch{lead}
	for down := 3; down <= 9; down += 3 {
		p := theory.PitchAt(key.Spell(lead.Key()-down), lead.Key()-down)
		if !p.IsValid() {
			return
		}
		voices = append(voices, p)
	}
	m.add(candidate{origin: fromDiminished, technique: theory.Approach}, voices,
		pay(chargeSlide, hungDiminished).plus(chargeUnrest, m.spot.restless))
}

// blue offers the dominant's own notes under its blue third or fifth, and the
// same with the thirteenth, so that the voices can move where the lead falls to
// another note of the chord.
func (m *maker) blue() {
	c := m.spot.heard
	if !isDominant(c) || hasPC(m.spot.tones, m.spot.lead.Name()) {
		return
	}
	third := degreeForm{5, 0}
	switch (m.spot.lead.Name().PC() - c.Root().PC() + 12) % 12 {
	case 3:
	case 6:
		third = degreeForm{1, 0}
	default:
		return
	}
	for _, with := range [2]degreeForm{third, {13, 0}} {
		names := []theory.Name{degreeName(c, with)}
		names = append(names, m.spot.guides...)
		m.add(candidate{origin: fromBlue, technique: theory.Diatonic}, theory.Stack(m.spot.lead, names...), pay(chargeOwnNotes, blueNote))
	}
}
