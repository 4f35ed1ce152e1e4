package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// suspension offers the suspended dominant under its fourth: the sixth chord on
// the seventh, F6 over G for a C, which is what a section plays there. With a flat
// ninth the same comes from the target's minor family, where it is borrowed.
func (m *maker) suspension() {
	c := m.spot.heard
	if !m.suspendable(c) {
		return
	}
	sv := theory.Service{Family: theory.NewFamily(degreeName(c, degreeForm{7, -1}), theory.MajorSixthFamily)}
	voices, side, ok := sv.Family.Block(m.spot.lead)
	if !ok || side != theory.Home || m.spot.passage.Treatment.Forbid.Has(theory.MajorSixthFamily) {
		return
	}
	m.add(candidate{origin: fromFamily, technique: theory.Home, service: servingOf(sv), chordSide: side},
		m.overDominant(sv, voices), pay(chargeGuide, suspended).plus(chargeBright, m.brightness(sv)))
}

// suspendable reports whether the lead is the fourth of a dominant whose ninth
// neither symbol nor passage alters.
func (m *maker) suspendable(c theory.Chord) bool {
	if !isDominant(c) || !c.Has(3, 0) || c.Has(9, -1) || c.Has(9, 1) ||
		m.spot.lead.Name().PC() != degreeName(c, degreeForm{4, 0}).PC() {
		return false
	}
	colour := colourOf(m.spot.passage)
	return colour == project.DominantsByFunction || colour == project.DominantsNaturalNine
}
