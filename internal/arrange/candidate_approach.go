package arrange

import "organbook/internal/theory"

// Approaches to the next note other than a parallel slide by one interval: along
// the scale, by the next chord's dominant, and by a diminished chord that shares
// a note with the chord in force; and blue notes, which approach nothing but
// stand against the dominant they colour.

// scaleSlides offers the next note's cheapest block moved along the scale of the
// key: every voice by one step, as a section plays scale passages.
func (m *maker) scaleSlides(nextLead theory.Pitch, next []candidate) {
	key := m.stage.keyAt(m.spot.note.Start)
	if len(next) == 0 || !key.IsValid() || m.onFamily() || m.inOtherMode() {
		return
	}
	steps := m.spot.lead.Diatonic() - nextLead.Diatonic()
	if steps != 1 && steps != -1 || !onKey(key, m.spot.lead.Name()) {
		return
	}
	for _, i := range cheapest(next, 1) {
		if voices := alongScale(next[i].voices, key, steps); voices != nil && voices[0].Key() == m.spot.lead.Key() {
			voices[0] = m.spot.lead
			m.addSpread(candidate{origin: fromScale, technique: theory.Approach, voicing: next[i].voicing, into: i + 1},
				voices, pay(chargeSlide, slideAlongScale).plus(chargeUnrest, m.spot.restless))
		}
	}
}

// onKey reports whether a note has no accidental in the key.
func onKey(key theory.Key, n theory.Name) bool {
	d := n.Fifths() - key.Fifths()
	return d >= -1 && d <= 5
}

// alongScale moves every voice by a step of the signature, nil where a voice is
// not on it or leaves the keys.
func alongScale(block []theory.Pitch, key theory.Key, steps int) []theory.Pitch {
	out := make([]theory.Pitch, len(block))
	for i, v := range block {
		if !onKey(key, v.Name()) {
			return nil
		}
		letter := theory.Letter((int(v.Name().Letter()) + steps + 7) % 7)
		for alter := -2; alter <= 2; alter++ {
			n := theory.NewName(letter, alter)
			if !onKey(key, n) {
				continue
			}
			distance := (n.PC() - v.Name().PC() + 12) % 12
			if steps < 0 {
				distance -= 12
			}
			out[i] = theory.PitchAt(n, v.Key()+distance)
		}
		if !out[i].IsValid() {
			return nil
		}
	}
	return out
}

// byDominant offers the away chord of the next note's family, its dominant with
// a flat ninth, where the next note brings another chord and this one leads into
// it from a note of that dominant.
func (m *maker) byDominant(next *spot) {
	if next == nil || next.span == m.spot.span || !playable(next.chord) || len(next.services) == 0 || next.services[0].Leading {
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
	m.add(candidate{origin: fromDominant, technique: theory.Approach, service: sv, chordSide: side}, voices,
		pay(chargeSlide, cost).plus(chargeUnrest, m.spot.restless))
}

// commonTone offers the diminished chord on the root of a major chord or
// dominant under a note that is off the family but in that chord: it keeps the
// root and resolves into the chord around it.
func (m *maker) commonTone() {
	c := m.spot.heard
	if m.onFamily() || m.inOtherMode() || !c.Has(3, 0) {
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

// blue offers the dominant's own notes under its blue third or fifth.
func (m *maker) blue() {
	c := m.spot.heard
	if !isDominant(c) || hasPC(m.spot.tones, m.spot.lead.Name()) {
		return
	}
	under := []degreeForm{{3, 0}, {7, -1}, {5, 0}}
	switch (m.spot.lead.Name().PC() - c.Root().PC() + 12) % 12 {
	case 3:
	case 6:
		under[2] = degreeForm{1, 0}
	default:
		return
	}
	var names []theory.Name
	for _, d := range under {
		if c.Has(d.number, d.alter) {
			names = append(names, degreeName(c, d))
		}
	}
	m.add(candidate{origin: fromBlue, technique: theory.Diatonic}, theory.Stack(m.spot.lead, names...), pay(chargeOwnNotes, blueNote))
}
