package theory

// Chord is a chord symbol's meaning: a root, the degrees above it, and the
// bass. Two chords are equal exactly when they have the same spelled root,
// degrees and bass, however they were written. The zero value is not valid.
type Chord struct {
	root, bass Name // bass is the zero Name when it is the root
	tones      degreeSet
	none       bool
}

// NoChord returns the chord of "N.C.": nothing sounds but the melody.
func NoChord() Chord { return Chord{none: true} }

// IsValid reports whether the chord is one; N.C. is valid.
func (c Chord) IsValid() bool { return c.none || c.root.valid && c.tones != 0 }

// IsNone reports whether the chord is N.C.
func (c Chord) IsNone() bool { return c.none }

// Root returns the root; it is not valid for N.C.
func (c Chord) Root() Name { return c.root }

// Bass returns the lowest note: the one after the slash, or the root.
func (c Chord) Bass() Name {
	if c.bass.valid {
		return c.bass
	}
	return c.root
}

// HasSlash reports whether the bass differs from the root.
func (c Chord) HasSlash() bool { return c.bass.valid }

// WithBass returns the chord over another bass; the root as bass takes the
// slash away.
func (c Chord) WithBass(bass Name) Chord {
	if c.none || bass == c.root {
		bass = Name{}
	}
	c.bass = bass
	return c
}

// WithoutBass returns the chord over its root.
func (c Chord) WithoutBass() Chord { return c.WithBass(c.root) }

// Has reports whether the chord has a degree, 1 to 13, in the form that lies
// alter semitones from the major or perfect interval: a minor seventh is
// (7, -1), a flat ninth (9, -1). Seconds, fourths and sixths are told from
// ninths, elevenths and thirteenths as the symbol tells them.
func (c Chord) Has(number, alter int) bool { return c.tones.has(number, alter) }

// HasAny reports whether the chord has a degree in any form.
func (c Chord) HasAny(number int) bool { return c.tones.any(number) }

// Tones returns the spelled notes of the chord in the order of their degrees:
// root, third, fifth, seventh, ninth. A slash bass is not added.
func (c Chord) Tones() []Name {
	return c.AppendTones(make([]Name, 0, c.tones.len()))
}

// AppendTones appends the notes of Tones to dst, for callers that reuse it.
func (c Chord) AppendTones(dst []Name) []Name {
	for s := c.tones; s != 0; {
		dst = append(dst, c.root.Transpose(s.next().interval()))
	}
	return dst
}

// PitchClasses returns the pitch class of each of Tones, in the same order.
func (c Chord) PitchClasses() []int {
	out := make([]int, 0, c.tones.len())
	for s := c.tones; s != 0; {
		out = append(out, mod(c.root.PC()+s.next().interval().Semitones(), 12))
	}
	return out
}

// PCSet returns the pitch classes of the chord as a set, without the bass.
func (c Chord) PCSet() PCSet {
	var set PCSet
	for s := c.tones; s != 0; {
		set = set.With(c.root.PC() + s.next().interval().Semitones())
	}
	return set
}

// SpellOf returns the chord's own name for a pitch class, and whether the
// class is one of its tones.
func (c Chord) SpellOf(pc int) (Name, bool) {
	for s := c.tones; s != 0; {
		if n := c.root.Transpose(s.next().interval()); n.PC() == mod(pc, 12) {
			return n, true
		}
	}
	return Name{}, false
}

// Transpose returns the chord an interval away; N.C. stays.
func (c Chord) Transpose(i Interval) Chord {
	c.root, c.bass = c.root.Transpose(i), c.bass.Transpose(i)
	if c.bass == c.root {
		c.bass = Name{}
	}
	return c
}
