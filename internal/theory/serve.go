package theory

// Service is a family that serves a chord: blocks of the family may be played
// while the chord is in force.
type Service struct {
	Family Family
	// Leading reports that the chord works as the family's dominant: its own
	// sound is the family's away chord, and home belongs to what follows.
	Leading bool
	// Sound is what the family's resting (Leading: away) block sounds as over
	// the chord's root, as a chord symbol in ASCII.
	Sound string
	// Reason says in a sentence why the family serves.
	Reason string
}

// Serve returns the families that serve a chord whose context is not known,
// in order of preference.
func Serve(c Chord) []Service {
	f := func(i Interval, s Sixth) []Service {
		return []Service{{Family: NewFamily(c.root.Transpose(i), s)}}
	}
	switch q := c.Quality(); {
	case q == NoQuality:
		return nil
	case q == MinorSeventhChord:
		return append(f(MinorThird, MajorSixthFamily), f(Unison, MinorSixthFamily)...)
	case q == HalfDiminished:
		return f(MinorThird, MinorSixthFamily)
	case q.IsMinor():
		return f(Unison, MinorSixthFamily)
	case q == DominantFlatFive:
		return f(Unison, DominantFlatFiveFamily)
	case q.IsDominant():
		return f(Unison, DominantFamily)
	}
	return f(Unison, MajorSixthFamily)
}

// ServeToward returns the families that serve a chord that leads to target, in
// order of preference.
func ServeToward(c, target Chord) []Service {
	if c.Quality().IsDominant() && target.IsValid() && !target.none {
		to := Serve(target)[0].Family
		return append([]Service{{Family: to, Leading: true}}, Serve(c)...)
	}
	return Serve(c)
}
