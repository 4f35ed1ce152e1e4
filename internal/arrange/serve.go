package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// servedKey is everything that the families of a span depend on.
type servedKey struct {
	chord, goal theory.Chord
	rests       bool
}

// servicesOf returns the families that serve a span, best first: a dominant is
// served by its target's families, a two that is played as five by those of
// its five, a chord at rest by its own.
func servicesOf(s *stage, spans []Span, r *reading, i int) []theory.Service {
	key := servedKey{chord: spans[i].Chord}
	switch r.role {
	case roleFive, roleSub, roleBackdoor, roleLeadingDim, roleDim:
		key.chord, key.goal = asSeventh(key.chord), r.goal
	case roleTwo:
		if r.playedAsFive(s, spans[i].Start) {
			key.chord, key.goal = asSeventh(spans[i].Target), r.goal
		}
	case roleTonic, roleBlues:
		key.rests = true
	}
	list, ok := s.served[key]
	if !ok {
		list = key.serve()
		s.served[key] = list
	}
	return list
}

func (k servedKey) serve() []theory.Service {
	switch {
	case k.goal.IsValid():
		return theory.ServeToward(k.chord, k.goal)
	case k.rests:
		return theory.ServeAtRest(k.chord)
	}
	return theory.Serve(k.chord)
}

// asSeventh adds the seventh to a plain major triad that works as a dominant,
// so that it is served like one.
func asSeventh(c theory.Chord) theory.Chord {
	if !isMajorTriad(c) || c.Has(5, 1) {
		return c
	}
	seventh, err := theory.NewChord(c.Root(), theory.KindDominant, nil, c.Bass())
	if err != nil {
		return c
	}
	return seventh
}

// playedAsFive reports whether a two is harmonised as the dominant it leads to.
func (r *reading) playedAsFive(s *stage, at project.Ticks) bool {
	return r.role == roleTwo && playable(r.goal) && s.passageAt(at).Treatment.TwoFiveAsFive
}

// otherModeOf returns the target's family in its other mode, in the service of
// a dominant: over G7 to C the minor sixth and third may be borrowed as well.
// It is not valid where no family leads.
func otherModeOf(r *reading) theory.Service {
	if len(r.services) == 0 || !r.services[0].Leading {
		return theory.Service{}
	}
	f := r.services[0].Family
	switch f.Sixth() {
	case theory.MajorSixthFamily:
		f = theory.NewFamily(f.Tonic(), theory.MinorSixthFamily)
	case theory.MinorSixthFamily:
		f = theory.NewFamily(f.Tonic(), theory.MajorSixthFamily)
	default:
		return theory.Service{}
	}
	return theory.Service{Family: f, Leading: true}
}
