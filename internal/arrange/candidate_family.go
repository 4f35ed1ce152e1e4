package arrange

import "organbook/internal/theory"

// servedBy bounds how many families of a chord are tried.
const servedBy = 4

func (m *maker) families() {
	for rank, sv := range m.spot.services[:min(servedBy, len(m.spot.services))] {
		if sv.Leading {
			m.leading(sv, rank*secondFamily)
		} else {
			m.resting(sv, rank*secondFamily+m.brightness(sv))
		}
	}
	m.otherMode()
}

// brightness is brightNine for a family that puts a natural ninth over a
// dominant on its way to minor.
func (m *maker) brightness(sv theory.Service) int {
	r := m.spot.reading
	minor := r.otherModeAsked || isMinor(r.goal) || isHalfDiminished(r.goal)
	if r.role != roleFive || !minor || !isDominant(m.spot.heard) {
		return 0
	}
	ninth := degreeName(m.spot.heard, degreeForm{9, 0})
	home := sv.Family.Home()
	if hasPC(home[:], ninth) && !hasPC(m.spot.tones, ninth) {
		return brightNine
	}
	return 0
}

// otherMode offers the one note that the target's other mode adds: its third,
// on the dominant's diminished chord.
func (m *maker) otherMode() {
	if other := m.spot.reading.otherMode; m.inOtherMode() {
		cost := otherMode
		if m.spot.reading.otherModeAsked {
			cost = otherModeAsked
		}
		m.borrowed(other, cost+borrowOverDominant)
	}
}

// leading offers the blocks of a dominant: its family's away chord, with a
// home note of the target borrowed where the melody has one.
func (m *maker) leading(sv theory.Service, cost int) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	if side == theory.Away {
		m.add(candidate{origin: fromFamily, technique: theory.Away, service: sv, chordSide: side}, voices, cost)
		m.inner(sv, cost)
		return
	}
	m.borrowed(sv, cost+borrowOverDominant)
	m.add(candidate{origin: fromFamily, technique: theory.Home, service: sv, chordSide: side}, voices,
		cost+targetInPassing+m.spot.restless)
}

// resting offers the blocks of a chord that is the family's home: home under
// home notes, away under away notes in passing, and away notes borrowed onto
// the home chord where they must rest.
func (m *maker) resting(sv theory.Service, cost int) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	own := candidate{origin: fromFamily, technique: side, service: sv, chordSide: side}
	if side == theory.Home {
		m.add(own, m.overDominant(sv, voices), cost)
		m.inner(sv, cost)
		return
	}
	away := cost + m.spot.restless
	switch {
	case m.spot.reading.moves():
		away += awayOverDominant
	case cost > 0:
		away += foreignAway
	}
	m.add(own, voices, away)
	m.borrowed(sv, cost+borrowLead)
}

// overDominant spells a resting chord that stands for a dominant with another
// root as that dominant's own degrees: G#m6 over G7 reads Ab B Eb F.
func (m *maker) overDominant(sv theory.Service, voices []theory.Pitch) []theory.Pitch {
	if sv.Leading || !isDominant(m.spot.heard) || sv.Family.Tonic() == m.spot.heard.Root() {
		return voices
	}
	for i, v := range voices[1:] {
		voices[i+1] = theory.PitchAt(spellOver(m.spot.heard, v.Name().PC()), v.Key())
	}
	return voices
}

func (m *maker) borrowed(sv theory.Service, cost int) {
	for _, b := range sv.Family.BorrowLead(m.spot.lead) {
		b.Voices = m.overDominant(sv, b.Voices)
		m.addBorrowed(fromLead, sv, b, cost)
	}
}

// inner offers borrowed inner voices, for the family that serves best only.
func (m *maker) inner(sv theory.Service, cost int) {
	if cost > 0 {
		return
	}
	for _, b := range sv.Family.BorrowInner(m.spot.lead) {
		price := borrowInner + m.spot.restless
		if sv.Leading && hasPC(m.spot.tones, b.Note) {
			price = borrowInnerTone
		}
		m.addBorrowed(fromInner, sv, b, cost+price)
	}
}

func (m *maker) addBorrowed(from origin, sv theory.Service, b theory.Borrowing, cost int) {
	switch {
	case !hasPC(m.spot.guides, b.Instead):
	case m.suspends(b):
		cost += suspended
	default:
		cost += lostGuide
	}
	m.add(candidate{
		origin: from, technique: theory.Borrowed, service: sv,
		chordSide: b.Chord, note: b.Note, instead: b.Instead,
	}, b.Voices, cost)
}

// suspends reports whether a borrowing puts the symbol's fourth in place of its
// third.
func (m *maker) suspends(b theory.Borrowing) bool {
	return b.Note.PC() == degreeName(m.spot.heard, degreeForm{4, 0}).PC() &&
		b.Instead.PC() == m.spot.guides[0].PC()
}

// inOtherMode reports whether the lead is off the family but on the target's
// home chord in its other mode.
func (m *maker) inOtherMode() bool {
	if m.onFamily() || !m.spot.reading.otherMode.Family.IsValid() {
		return false
	}
	_, ok := m.spot.reading.otherMode.Family.StepOf(m.spot.lead.Name().PC())
	return ok
}

// onFamily reports whether the lead is on the scale of the family that serves
// best.
func (m *maker) onFamily() bool {
	if len(m.spot.services) == 0 {
		return false
	}
	_, ok := m.spot.services[0].Family.StepOf(m.spot.lead.Name().PC())
	return ok
}
