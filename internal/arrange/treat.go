package arrange

import (
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// colourOf returns the colour a passage asks of its dominants.
func colourOf(p *passage) project.DominantColour {
	if p.Treatment.Leaning == project.LeanBright && p.Treatment.Dominants == project.DominantsByFunction {
		return project.DominantsNaturalNine
	}
	return p.Treatment.Dominants
}

// treated returns the services of a chord as a passage wants them: forbidden
// families left out, preferred ones first, and for a dominant on its way the
// family with the colour asked for before all.
func treated(list []theory.Service, r *reading, p *passage) []theory.Service {
	t, colour := &p.Treatment, colourOf(p)
	if t.Prefer|t.Forbid == 0 && (colour == project.DominantsByFunction || !coloured(r)) {
		return list
	}
	out := slices.DeleteFunc(slices.Clone(list), func(s theory.Service) bool {
		return t.Forbid.Has(s.Family.Sixth())
	})
	rank := func(s theory.Service) int {
		switch {
		case coloured(r) && colour != project.DominantsByFunction && has(colour, s, r.heard):
			return 0
		case t.Prefer.Has(s.Family.Sixth()):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(out, func(a, b theory.Service) int { return rank(a) - rank(b) })
	return out
}

// coloured reports whether a span is a dominant whose colour a passage may
// choose: one that goes somewhere.
func coloured(r *reading) bool {
	return isDominant(r.heard) && (r.moves() || r.role == roleTwo)
}

// has reports whether a family gives a dominant the colour.
func has(colour project.DominantColour, s theory.Service, c theory.Chord) bool {
	up := (s.Family.Tonic().PC() - c.Root().PC() + 12) % 12
	minor := s.Family.Sixth() == theory.MinorSixthFamily && !s.Leading
	switch colour {
	case project.DominantsFlatNine:
		return s.Leading
	case project.DominantsNaturalNine:
		return minor && up == 7
	case project.DominantsAltered:
		return minor && up == 1
	}
	return false
}

// agreeing returns the services whose chord has no note against what the symbol
// spells out: its own word wins over any family.
func agreeing(list []theory.Service, against theory.PCSet) []theory.Service {
	quarrels := func(s theory.Service) bool {
		block := s.Family.Home()
		if s.Leading {
			block = s.Family.Away()
		}
		return slices.ContainsFunc(block[:], func(n theory.Name) bool { return against.Has(n.PC()) })
	}
	if against == 0 || !slices.ContainsFunc(list, quarrels) {
		return list
	}
	return slices.DeleteFunc(slices.Clone(list), quarrels)
}

// wanted returns the services of a span as the spot's passage wants them.
func (s *stage) wanted(sp *spot) []theory.Service {
	key := wantedKey{sp.span, sp.passage.kind}
	list, ok := s.treatments[key]
	if !ok {
		list = treated(sp.reading.services, sp.reading, sp.passage)
		s.treatments[key] = list
	}
	return list
}

// wantedKey is a span under one kind of treatment.
type wantedKey struct{ span, kind int }

// Families returns the families that serve the chord of a step as its passage
// wants them, best first; nil where none does. They are not to be changed.
func (r *Realisation) Families(step int) []theory.Service {
	if r.search == nil || step < 0 || step >= len(r.search.first) {
		return nil
	}
	return r.search.spots[r.search.first[step]].services
}
