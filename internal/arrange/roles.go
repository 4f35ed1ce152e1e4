package arrange

import "organbook/internal/theory"

// roleOf reads the span from its own chord and the one that follows.
func roleOf(s *stage, spans []Span, next []int, i int) role {
	c := spans[i].Chord
	if !playable(c) {
		return roleNone
	}
	var to theory.Chord
	j := follow(spans, next, i)
	if isDominant(c) {
		j = resolution(spans, next, i)
	}
	if j >= 0 && playable(spans[j].Chord) {
		to = spans[j].Chord
	}
	key := s.keyAt(spans[i].Start)
	switch {
	case isDominant(c) && turnsMinor(spans, next, i):
		return roleBlues
	case isDominant(c) && backdoorToThree(spans, next, i, key):
		return roleBackdoor
	case isDominant(c) || dominantTriad(c, to, key):
		if prepared(spans, next, i) && playable(to) && rise(c, to) == 5 {
			return roleFive
		}
		return dominantRole(c, to, key)
	case c.Quality() == theory.Augmented && playable(to) && rise(c, to) == 5:
		return roleFive
	case suspendsOver(c, to):
		return roleSus
	case isDiminished(c):
		if theory.Resolves(c, to) {
			return roleLeadingDim
		}
		return roleDim
	case isTonicInDisguise(c, key):
		return roleStay
	case couldBeTwo(c):
		if to.IsValid() && preparesDominant(s, spans, next, j, c) {
			return roleTwo
		}
	}
	if key.IsValid() && c.Root().PC() == key.Tonic().PC() && !isHalfDiminished(c) {
		return roleTonic
	}
	return roleStay
}

// suspendsOver reports whether a chord over another bass is the suspended
// dominant of to: the major chord on the bass's seventh or the minor one on its
// fifth, over a bass that falls a fifth.
func suspendsOver(c, to theory.Chord) bool {
	if !c.HasSlash() || !playable(to) || isDominant(to) && couldBeTwo(c) && falls(c, to) {
		return false
	}
	up := (c.Bass().PC() - c.Root().PC() + 12) % 12
	falling := (to.Root().PC()-c.Bass().PC()+12)%12 == 5
	return falling && (isMajor(c) && up == 2 || isMinor(c) && up == 5)
}

// turnsMinor reports whether a dominant becomes the minor two on its own root, as
// in Bb7, Bbm7, Eb7: it rests on its natural ninth first. One with an altered
// ninth or fifth, or that turns half-diminished, still leads on past the two.
func turnsMinor(spans []Span, next []int, i int) bool {
	c, j := spans[i].Chord, follow(spans, next, i)
	altered := c.Has(9, -1) || c.Has(9, 1) || c.Has(5, 1) || c.Has(13, -1)
	return j >= 0 && !altered && sameRoot(c, spans[j].Chord) && isMinorSeventh(spans[j].Chord)
}

// dominantTriad reports whether a plain major triad works as a dominant: on its
// way to a minor chord a fifth below, where its third is a leading note, or as
// the key's own fifth degree on its way home.
func dominantTriad(c, to theory.Chord, key theory.Key) bool {
	if !isMajorTriad(c) || !playable(to) || rise(c, to) != 5 {
		return false
	}
	tonic := key.IsValid() && key.Mode() == theory.Major && c.Root().PC() == key.Tonic().PC()
	home := key.IsValid() && to.Root().PC() == key.Tonic().PC() && isMajor(to)
	return home || isMinor(to) && !tonic
}

// isDeceptive reports whether c is the key's own dominant moving to something
// else that is no dominant, as in V to iii or vi, or breaking off before N.C.:
// it still sounds as the dominant of the tonic.
func isDeceptive(c, to theory.Chord, key theory.Key) bool {
	return key.IsValid() && c.Root().PC() == key.Tonic().Transpose(theory.PerfectFifth).PC() &&
		!falls(c, to) && !isDominant(to) && !sameRoot(c, to)
}

// backdoorToThree reports whether span i is the dominant on the lowered seventh
// degree of a major key before the third degree, which stands for the tonic:
// Bb7 before Em7 in C.
func backdoorToThree(spans []Span, next []int, i int, key theory.Key) bool {
	if !key.IsValid() || key.Mode() != theory.Major || (spans[i].Chord.Root().PC()-key.Tonic().PC()+12)%12 != 10 {
		return false
	}
	j := follow(spans, next, i)
	return j >= 0 && isMinor(spans[j].Chord) && rise(spans[i].Chord, spans[j].Chord) == 6
}

// tonicOf returns the plain tonic chord of a key.
func tonicOf(key theory.Key) theory.Chord {
	kind := theory.KindMajorSixth
	if key.Mode() == theory.Minor {
		kind = theory.KindMinorSixth
	}
	c, err := theory.NewChord(key.Tonic(), kind, nil, theory.Name{})
	if err != nil {
		return theory.Chord{}
	}
	return c
}

// isTonicInDisguise reports whether a half-diminished chord on the sixth degree
// of a minor key is the tonic minor sixth over its own sixth: Em7b5 is Gm6
// over E.
func isTonicInDisguise(c theory.Chord, key theory.Key) bool {
	return isHalfDiminished(c) && key.IsValid() && key.Mode() == theory.Minor &&
		(c.Root().PC()-key.Tonic().PC()+12)%12 == 9
}

// prepared reports whether the chord before span i is the two of its dominant.
func prepared(spans []Span, next []int, i int) bool {
	return i > 0 && next[i-1] == i && couldBeTwo(spans[i-1].Chord) && rise(spans[i-1].Chord, spans[i].Chord) == 5
}

func dominantRole(c, to theory.Chord, key theory.Key) role {
	if isDeceptive(c, to, key) {
		return roleFive
	}
	if !playable(to) {
		return roleBlues
	}
	tonic := key.IsValid() && c.Root().PC() == key.Tonic().PC()
	switch rise(c, to) {
	case 5:
		if tonic && isDominant(to) {
			return roleBlues // I7 to IV7 of a blues rests on both
		}
		return roleFive
	case 11:
		if tonic {
			return roleBlues
		}
		return roleSub
	case 2:
		if isMajor(to) && key.IsValid() && to.Root().PC() == key.Tonic().PC() {
			return roleBackdoor
		}
	}
	return roleBlues
}

// preparesDominant reports whether the chord of span j is the dominant (or its
// tritone substitute) that c, a minor or half-diminished chord, leads to.
func preparesDominant(s *stage, spans []Span, next []int, j int, c theory.Chord) bool {
	to := spans[j].Chord
	five := isDominant(to)
	if !five && isMajorTriad(to) {
		if k := follow(spans, next, j); k >= 0 {
			five = dominantTriad(to, spans[k].Chord, s.keyAt(spans[j].Start)) || isMajorTriad(to) && rise(to, spans[k].Chord) == 5 && playable(spans[k].Chord)
		}
	}
	if !five {
		return false
	}
	key := s.keyAt(spans[j].Start)
	if key.IsValid() && c.Root().PC() == key.Tonic().PC() && !c.HasAny(7) {
		return false // a tonic triad before its fourth degree stays a tonic
	}
	up := rise(c, to)
	return up == 5 || up == 11
}
