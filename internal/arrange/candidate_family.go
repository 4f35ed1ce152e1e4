package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// servedBy bounds how many families of a chord are tried.
const servedBy = 4

func (m *maker) families() {
	for rank, sv := range m.spot.services[:min(servedBy, len(m.spot.services))] {
		m.rank, sv = rank, sv.Spelled(m.spot.lead.Name())
		cost := m.familyPrice(rank, sv)
		if sv.Leading {
			m.leading(sv, cost)
		} else {
			m.resting(sv, cost.plus(chargeBright, m.brightness(sv)))
		}
	}
	m.otherMode()
	m.suspension()
}

// borrows reports how much the passage borrows.
func (m *maker) borrows() project.Borrow { return m.spot.passage.Treatment.Borrow }

// freely reports whether voices may be borrowed for their sound alone.
func (m *maker) freely() bool {
	return m.borrows() == project.BorrowFreely || m.leaning() == project.LeanBorrowed && m.borrows() != project.BorrowNever
}

func (m *maker) leaning() project.Leaning { return m.spot.passage.Treatment.Leaning }

// brightness is brightNine for a family that puts a natural ninth over a
// dominant on its way to minor, unless the passage asks for such ninths.
func (m *maker) brightness(sv theory.Service) int {
	r := m.spot.reading
	minor := r.otherModeAsked || isMinor(r.goal) || isHalfDiminished(r.goal)
	if r.role != roleFive || !minor || !isDominant(m.spot.heard) || colourOf(m.spot.passage) == project.DominantsNaturalNine {
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
		m.borrowed(other, pay(chargeOtherMode, cost).plus(chargeBorrow, borrowOverDominant))
	}
}

// leading offers the blocks of a dominant: its family's away chord, with a
// home note of the target borrowed where the melody has one.
func (m *maker) leading(sv theory.Service, cost price) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	if side == theory.Away {
		m.add(candidate{origin: fromFamily, technique: theory.Away, service: servingOf(sv), chordSide: side}, m.overDominant(sv, voices), cost)
		m.inner(sv, cost)
		return
	}
	m.borrowed(sv, cost.plus(chargeBorrow, borrowOverDominant))
	m.two(sv, cost.plus(chargeBorrow, borrowOverDominant))
	m.add(candidate{origin: fromFamily, technique: theory.Home, service: servingOf(sv), chordSide: side}, voices,
		cost.plus(chargeTarget, targetInPassing).plus(chargeUnrest, 2*m.spot.restless))
}

// resting offers the blocks of a chord that is the family's home: home under
// home notes, away under away notes in passing, and away notes borrowed onto
// the home chord where they must rest.
func (m *maker) resting(sv theory.Service, cost price) {
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok {
		return
	}
	own := candidate{origin: fromFamily, technique: side, service: servingOf(sv), chordSide: side}
	if side == theory.Home {
		m.add(own, m.overDominant(sv, voices), cost)
		m.inner(sv, cost)
		return
	}
	away := cost.plus(chargeUnrest, m.spot.restless)
	switch {
	case m.spot.reading.moves():
		away = away.plus(chargeForeign, awayOverDominant)
	case cost.total > 0:
		away = away.plus(chargeForeign, foreignAway)
	}
	switch {
	case hasPC(m.spot.colours, m.spot.lead.Name()):
		away = away.plus(chargeOwnTone, awayUnderColour)
	case hasPC(m.spot.tones, m.spot.lead.Name()):
		away = away.plus(chargeOwnTone, awayUnderTone)
	}
	m.add(own, voices, away)
	borrow := borrowLead
	if hasPC(m.spot.tones, m.spot.lead.Name()) || isDominant(m.spot.heard) && m.spot.customary() {
		borrow = borrowTension
	}
	m.borrowed(sv, cost.plus(chargeBorrow, borrow))
	m.two(sv, cost.plus(chargeBorrow, borrow))
}

// turns offers the family's other chord under a lead that is held or repeated:
// the lead stays and the inner voices move to their neighbours.
func (m *maker) turns(cost int) {
	for _, sv := range m.spot.services[:min(1, len(m.spot.services))] {
		sv = sv.Spelled(m.spot.lead.Name())
		price := pay(chargeBorrow, cost).plus(chargeUnrest, m.spot.restless)
		for _, b := range sv.Family.BorrowLead(m.spot.lead) {
			c := candidate{origin: fromTurn, technique: theory.Borrowed, service: servingOf(sv), chordSide: b.Chord, note: b.Note, instead: b.Instead}
			lost := 0
			if step, _ := sv.Family.StepOf(b.Instead.PC()); step == 3 || step == 7 {
				lost = turnedGuide
			}
			m.add(c, m.overDominant(sv, b.Voices), price.plus(chargeGuide, lost))
		}
	}
}

// overDominant spells a chord that stands for a dominant which does not fall a
// fifth, or has another root, as that dominant's own degrees: G#m6 over G7 reads
// Ab B Eb F.
func (m *maker) overDominant(sv theory.Service, voices []theory.Pitch) []theory.Pitch {
	if !isDominant(m.spot.heard) || sv.Family.Tonic() == m.spot.heard.Root() || sv.Leading && m.spot.reading.role == roleFive {
		return voices
	}
	for i, v := range voices[1:] {
		voices[i+1] = theory.PitchAt(spellOver(m.spot.heard, v.Name().PC()), v.Key())
	}
	return voices
}

func (m *maker) borrowed(sv theory.Service, cost price) {
	if m.borrows() == project.BorrowNever {
		return
	}
	for _, b := range sv.Family.BorrowLead(m.spot.lead) {
		m.addBorrowed(fromLead, sv, b, cost)
	}
}

// inner offers borrowed inner voices, for the family that serves best only.
func (m *maker) inner(sv theory.Service, cost price) {
	if cost.total > 0 || m.borrows() == project.BorrowNever {
		return
	}
	for _, b := range sv.Family.BorrowInner(m.spot.lead) {
		m.addBorrowed(fromInner, sv, b, cost.and(m.innerPrice(sv, b.Note)))
	}
	m.two(sv, cost)
}

// innerPrice is what an inner voice that nothing in the melody asks for costs.
func (m *maker) innerPrice(sv theory.Service, note theory.Name) price {
	switch {
	case (ninthIsColour(m.spot.heard) || m.spot.reading.line) && m.spot.reading.asked.Has(note.PC()):
		return pay(chargeBorrowInner, borrowInnerAsked)
	case sv.Leading && hasPC(m.spot.tones, note):
		return pay(chargeBorrowInner, borrowInnerTone)
	case m.leaning() == project.LeanBorrowed && m.freely():
		return pay(chargeLeaning, -leanToBorrow).plus(chargeUnrest, m.spot.restless/2)
	case m.freely():
		return pay(chargeBorrowInner, borrowInnerFreely).plus(chargeUnrest, m.spot.restless/2)
	}
	return pay(chargeBorrowInner, borrowInner).plus(chargeUnrest, m.spot.restless)
}

// brings reports whether the second borrowed voice brings a customary tension to
// a dominant whose lead is borrowed anyway.
func (m *maker) brings(sv theory.Service, b theory.Borrowing) bool {
	up := (b.Also.PC() - m.spot.heard.Root().PC() + 12) % 12
	return sv.Leading && b.Note.PC() == m.spot.lead.Name().PC() && isDominant(m.spot.heard) && dominantTensions[up] &&
		!hasPC(m.spot.guides, b.AlsoInstead)
}

// two offers two borrowed voices, for the family that serves best only: all that
// there are where the passage borrows freely, and else those over a dominant
// that bring it a tension.
func (m *maker) two(sv theory.Service, cost price) {
	if m.borrows() == project.BorrowNever || m.rank > 0 ||
		!m.freely() && !(sv.Leading && isDominant(m.spot.heard)) {
		return
	}
	for _, b := range sv.Family.BorrowTwo(m.spot.lead) {
		if stands := (b.Chord == theory.Away) == sv.Leading; !stands || !m.freely() && !m.brings(sv, b) {
			continue // the family's other chord does not stand for this one
		}
		second := pay(chargeBorrowInner, borrowInnerTension)
		if m.freely() {
			second = m.innerPrice(sv, b.Also)
		}
		m.addBorrowed(fromTwo, sv, b, cost.and(second).plus(chargeBorrowInner, borrowSecond))
	}
}

func (m *maker) addBorrowed(from origin, sv theory.Service, b theory.Borrowing, cost price) {
	for _, gone := range [2]theory.Name{b.Instead, b.AlsoInstead} {
		switch {
		case !gone.IsValid() || !hasPC(m.spot.guides, gone):
		case m.suspends(b):
			cost = cost.plus(chargeGuide, suspended)
		case !m.spot.short:
			cost = cost.plus(chargeGuide, lostGuideHeld)
		default:
			cost = cost.plus(chargeGuide, lostGuide)
		}
	}
	m.add(candidate{
		origin: from, technique: theory.Borrowed, service: servingOf(sv),
		chordSide: b.Chord, note: b.Note, instead: b.Instead, also: b.Also, alsoInstead: b.AlsoInstead,
	}, m.overDominant(sv, b.Voices), cost)
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

// onHome reports whether the lead is on the home chord of the family that serves
// best.
func (m *maker) onHome() bool {
	if len(m.spot.services) == 0 {
		return false
	}
	step, on := m.spot.services[0].Family.StepOf(m.spot.lead.Name().PC())
	return on && step%2 == 0
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
