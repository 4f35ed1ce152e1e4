package arrange

import (
	"slices"

	"organbook/internal/theory"
)

// servicesOf returns the families that serve a span, best first: a dominant is
// served by its target's families, a two that is played as five by those of
// its five, everything else by its own.
func servicesOf(s *stage, spans []Span, r *reading, i int) []theory.Service {
	c := spans[i].Chord
	switch r.role {
	case roleFive, roleSub, roleBackdoor, roleLeadingDim:
		return theory.ServeToward(c, r.goal)
	case roleTwo:
		if s.passageAt(spans[i].Start).Treatment.TwoFiveAsFive && playable(r.goal) {
			return theory.ServeToward(spans[i].Target, r.goal)
		}
	}
	list := theory.Serve(c)
	if restsInMinor(s, spans, r, i) {
		list = prefer(list, theory.NewFamily(c.Root(), theory.MinorSixthFamily))
	}
	return list
}

// restsInMinor reports whether a minor chord is a tonic, whose family is the
// minor one on its own root: it is the first degree of a minor key and does
// not go on as the two of something.
func restsInMinor(s *stage, spans []Span, r *reading, i int) bool {
	c := spans[i].Chord
	key := s.keyAt(spans[i].Start)
	return r.role != roleTwo && isMinor(c) && key.IsValid() && key.Mode() == theory.Minor &&
		c.Root().PC() == key.Tonic().PC()
}

// prefer moves a family to the front of the list, if it is there.
func prefer(list []theory.Service, f theory.Family) []theory.Service {
	at := slices.IndexFunc(list, func(sv theory.Service) bool {
		return !sv.Leading && sv.Family.Sixth() == f.Sixth() && sv.Family.Tonic().PC() == f.Tonic().PC()
	})
	if at <= 0 {
		return list
	}
	sv := list[at]
	return slices.Insert(slices.Delete(slices.Clone(list), at, at+1), 0, sv)
}
