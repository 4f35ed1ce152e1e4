package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// servedKey is everything that the families of a span depend on.
type servedKey struct {
	chord, goal theory.Chord
	rests       bool
	key         theory.Key
}

// servicesOf returns the families that serve a span, best first: a dominant is
// served by its target's families, a two that is played as five by those of
// its five, a chord at rest by its own. It notes in the reading what they follow
// from.
func servicesOf(s *stage, spans []Span, r *reading, i int) []theory.Service {
	key := servedKey{chord: spans[i].Chord, key: r.key}
	switch r.role {
	case roleFive, roleSub, roleBackdoor, roleLeadingDim, roleDim:
		key.chord, key.goal = asSeventh(key.chord), r.goal
	case roleTwo:
		if r.playedAsFive(s, spans[i].Start) {
			key.chord, key.goal = asSeventh(spans[i].Target), r.goal
		}
	case roleTonic, roleBlues:
		key.rests = !r.line || !isMinorSeventh(key.chord)
	}
	if r.role == roleTwo && !key.goal.IsValid() && !risesInside(spans, i) || r.role == roleStay && !s.arrivesMinor(spans, i) {
		key.chord = asMinorSeventh(key.chord)
	}
	r.served = key
	list, ok := s.served[key]
	if !ok {
		list = key.serve()
		s.served[key] = list
	}
	return list
}

func (k servedKey) serve() []theory.Service {
	return theory.ServeIn(k.chord, theory.Setting{Target: k.goal, AtRest: k.rests, Key: k.key})
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

// arrivesMinor reports whether the minor chord of span i rests as a tonic does:
// its sixth is a note of the key, as that of the fourth degree is, or its own
// dominant has just led to it.
func (s *stage) arrivesMinor(spans []Span, i int) bool {
	c, key := spans[i].Chord, s.keyAt(spans[i].Start)
	if !key.IsValid() || risesInside(spans, i) || signature(key).Has(degreeName(c, degreeForm{6, 0}).PC()) {
		return true
	}
	return i > 0 && (isDominant(spans[i-1].Chord) || isMajorTriad(spans[i-1].Chord)) && rise(spans[i-1].Chord, c) == 5
}

// risesInside reports whether the chord of span i begins a line inside itself, as
// in Gm Gm(maj7) Gm7: the seventh must not be there before the line comes to it.
func risesInside(spans []Span, i int) bool {
	return i+1 < len(spans) && sameRoot(spans[i].Chord, spans[i+1].Chord) && spans[i+1].Chord.Has(7, 0)
}

// insideLine reports whether the minor chord of span i has its seventh for a line
// inside the chord: one beside it has the same root and third, and another seventh
// or none.
func insideLine(spans []Span, i int) bool {
	c := spans[i].Chord
	if !playable(c) || !isMinor(c) || !c.HasAny(7) || isHalfDiminished(c) {
		return false
	}
	seventh := func(c theory.Chord) [2]bool { return [2]bool{c.Has(7, 0), c.Has(7, -1)} }
	for _, j := range [2]int{i - 1, i + 1} {
		if j >= 0 && j < len(spans) && playable(spans[j].Chord) && sameRoot(c, spans[j].Chord) && isMinor(spans[j].Chord) &&
			!isHalfDiminished(spans[j].Chord) && seventh(c) != seventh(spans[j].Chord) {
			return true
		}
	}
	return false
}

// asMinorSeventh adds the seventh to a plain minor triad that is no tonic, so that
// it is served like a second, third or sixth degree: with C# in it, Em in D would
// be the dominant already.
func asMinorSeventh(c theory.Chord) theory.Chord {
	if !isMinor(c) || c.HasAny(6) || c.HasAny(7) || c.Has(5, 1) {
		return c
	}
	seventh, err := theory.NewChord(c.Root(), theory.KindMinorSeventh, nil, c.Bass())
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
