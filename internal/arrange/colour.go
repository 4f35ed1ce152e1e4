package arrange

import (
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// The colour of dominants where neither the symbol nor the passage says one. It
// follows the target: minor, or a two that promised minor, asks for the flat
// ninth. A dominant that falls to a chord with a major third may have either
// ninth. In a quick cadence the flat one is the stronger move; but one that lasts,
// as in a bridge of dominants of two bars each, would hang in the air on a
// diminished chord all that time. So it rests on its natural ninth, the minor
// sixth chord on its fifth, and takes the flat ninth where the melody asks for it
// or where it leads on at last.

// longDominant is how many bars a dominant lasts at least to count as long.
const longDominant = 2

// opens reports whether span i is part of a long dominant with no colour of its
// own on its way to a major third, and sets where that dominant leads on. A plain
// triad, whose symbol asks for no tension, opens however short it is.
func (r *reading) opens(s *stage, spans []Span, i int) bool {
	c := r.heard
	if r.role != roleFive || asSeventh(c).Quality() != theory.DominantSeventh || len(r.colours) > 0 || r.otherModeAsked ||
		theory.FamilyOf(r.goal).Sixth() != theory.MajorSixthFamily {
		return false
	}
	goes := func(k int) bool {
		return sameRoot(spans[k].Chord, c) && (isDominant(spans[k].Chord) || isMajorTriad(c) && isMajorTriad(spans[k].Chord))
	}
	from, to := i, i
	for from > 0 && goes(from-1) {
		from--
	}
	for to+1 < len(spans) && goes(to+1) {
		to++
	}
	bar := s.meterAt(spans[i].Start).Length()
	r.turns = spans[to].End - bar/2
	return isMajorTriad(c) || spans[to].End-spans[from].Start >= longDominant*bar
}

// naturalFirst moves the family with a dominant's natural ninth to the front.
func naturalFirst(list []theory.Service, c theory.Chord) []theory.Service {
	i := slices.IndexFunc(list, func(s theory.Service) bool { return has(project.DominantsNaturalNine, s, c) })
	if i <= 0 {
		return list
	}
	out := append(make([]theory.Service, 0, len(list)), list[i])
	return append(append(out, list[:i]...), list[i+1:]...)
}

// familyPrice is what the family at a place in the list costs: more the further
// down it stands. Over a long dominant the flat ninth stands as high as the
// natural one where the chord leads on, and almost as high before that.
func (m *maker) familyPrice(rank int, sv theory.Service) price {
	if m.spot.reading.open && sv.Leading && colourOf(m.spot.passage) == project.DominantsByFunction {
		if m.spot.late {
			return price{}
		}
		return pay(chargeFamily, earlyFlatNine)
	}
	return pay(chargeFamily, rank*secondFamily)
}
