package arrange

import "organbook/internal/theory"

// degreeForm is a degree with its alteration from major or perfect.
type degreeForm struct{ number, alter int }

// guideForms lists the degrees that tell a chord's quality, a group for the
// third's place and a group for the seventh's; the first found of each counts.
var guideForms = [2][]degreeForm{
	{{3, 0}, {3, -1}, {4, 0}, {2, 0}, {11, 0}},
	{{7, 0}, {7, -1}, {7, -2}, {6, 0}, {13, 0}},
}

// guidesOf returns the chord's guide notes: its third, or the note suspended
// in its place, its seventh or sixth, and the lowered fifth of a diminished or
// half-diminished chord.
func guidesOf(c theory.Chord) []theory.Name {
	var out []theory.Name
	for _, group := range guideForms {
		for _, d := range group {
			if c.Has(d.number, d.alter) {
				out = append(out, degreeName(c, d))
				break
			}
		}
	}
	if c.Has(3, -1) && c.Has(5, -1) {
		out = append(out, degreeName(c, degreeForm{5, -1})) // what makes it diminished
	}
	return out
}

// colourForms lists the degrees that a symbol spells out to colour a chord; the
// lowered fifth that makes a chord diminished or half-diminished colours nothing.
var colourForms = []degreeForm{
	{5, -1}, {5, 1}, {9, -1}, {9, 0}, {9, 1}, {11, 0}, {11, 1}, {13, -1}, {13, 0},
}

func coloursOf(c theory.Chord) []theory.Name {
	var out []theory.Name
	for _, d := range colourForms {
		if c.Has(d.number, d.alter) && !(d == degreeForm{5, -1} && c.Has(3, -1)) {
			out = append(out, degreeName(c, d))
		}
	}
	return out
}

// againstOf returns the notes that no block may put against the symbol's own
// word: those a semitone from a tension or altered fifth it spells out, the other
// forms of its altered ninth, a natural thirteenth over its flat ninth, the other
// form of its seventh, and a major third over its minor one. A note of the symbol
// is never against it.
func againstOf(c theory.Chord) (set theory.PCSet) {
	root := c.Root().PC()
	for _, n := range coloursOf(c) {
		set = set.With(n.PC() + 1).With(n.PC() + 11)
	}
	switch {
	case c.Has(9, 1):
		set = set.With(root + 1).With(root + 2)
	case c.Has(9, -1):
		set = set.With(root + 9)
	}
	switch {
	case c.Has(7, -1):
		set = set.With(root + 11)
	case c.Has(7, 0):
		set = set.With(root + 10)
	}
	if c.Has(3, -1) {
		set = set.With(root + 4)
	}
	return set &^ c.PCSet()
}

// askedOf returns the altered tensions and fifths that the symbol asks for, and
// its ninth where that is its colour.
func askedOf(c theory.Chord) (set theory.PCSet) {
	if ninthIsColour(c) {
		set = set.With(degreeName(c, degreeForm{9, 0}).PC())
	}
	for _, d := range colourForms {
		if d.alter != 0 && c.Has(d.number, d.alter) && !(d.number == 5 && c.Has(3, -1)) {
			set = set.With(degreeName(c, d).PC())
		}
	}
	return set
}

// ninthIsColour reports whether the ninth is all that a symbol says beyond its
// seventh or sixth, as in Fm9 and Eb6/9. A dominant's natural ninth follows from
// its family.
func ninthIsColour(c theory.Chord) bool {
	return (isMajor(c) || isMinor(c)) && c.Has(9, 0) && !c.HasAny(11) && !c.HasAny(13)
}

// degreeName spells a degree over the chord's root.
func degreeName(c theory.Chord, d degreeForm) theory.Name {
	steps := d.number - 1
	semitones := majorDegrees[steps%7] + 12*(steps/7) + d.alter
	return c.Root().Transpose(theory.NewInterval(steps, semitones))
}

// dominantForms are the degrees of a dominant by semitones above its root, as
// the trade reads them.
var dominantForms = [12]degreeForm{
	{1, 0}, {9, -1}, {9, 0}, {9, 1}, {3, 0}, {11, 0}, {11, 1}, {5, 0}, {13, -1}, {13, 0}, {7, -1}, {7, 0},
}

// spellOver spells a pitch class as a degree of a dominant: the symbol's own
// note where it has one, else the usual tension.
func spellOver(c theory.Chord, pc int) theory.Name {
	if n, ok := c.SpellOf(pc); ok {
		return n
	}
	return degreeName(c, dominantForms[(pc-c.Root().PC()+12)%12])
}

// Classes of chords, read from their degrees.

func isDominant(c theory.Chord) bool { return c.Quality().IsDominant() }

// isAlt reports whether a dominant leaves open which of its ninths and fifths it
// takes, as the symbol's "alt" does.
func isAlt(c theory.Chord) bool {
	return isDominant(c) && c.Has(9, -1) && c.Has(9, 1) && c.Has(5, -1) && c.Has(5, 1)
}

func isMinor(c theory.Chord) bool { return c.Has(3, -1) && !c.Has(5, -1) }

func isMinorSeventh(c theory.Chord) bool { return isMinor(c) && c.Has(7, -1) }

func isHalfDiminished(c theory.Chord) bool {
	return c.Has(3, -1) && c.Has(5, -1) && c.Has(7, -1)
}

func isDiminished(c theory.Chord) bool {
	return c.Has(3, -1) && c.Has(5, -1) && !c.Has(7, -1)
}

func isMajor(c theory.Chord) bool { return c.Has(3, 0) && !c.Has(7, -1) }

func isMajorTriad(c theory.Chord) bool {
	return isMajor(c) && !c.HasAny(6) && !c.HasAny(7)
}

func playable(c theory.Chord) bool { return c.IsValid() && !c.IsNone() }

// classOf sorts chords by what they do: a line of Gm, Gm(maj7), Gm7 is one
// chord that moves inside.
func classOf(c theory.Chord) int {
	for class, is := range []func(theory.Chord) bool{isDominant, isMinor, isHalfDiminished, isDiminished} {
		if is(c) {
			return class
		}
	}
	return -1
}
