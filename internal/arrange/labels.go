package arrange

import (
	"strings"

	"organbook/internal/phrase"
	"organbook/internal/theory"
)

// describe writes the parts of a span that a reader sees.
func (sp *Span) describe(s *stage, spans []Span, readings []reading, next []int, i int) {
	r := &readings[i]
	if r.role == roleNone {
		sp.Reason = noneReason(sp.Chord)
		return
	}
	sp.Function = visited(functionLabel(sp, r, r.key, r.playedAsFive(s, sp.Start)), s, sp, r)
	if len(r.services) == 0 {
		sp.Reason = phrase.Of("No family serves %s; its blocks are made of its own notes.", sp.Chord)
		return
	}
	best := r.services[0]
	sp.Family, sp.Leading, sp.Reason = best.Family, best.Leading, best.Reason
	if r.playedAsFive(s, sp.Start) {
		sp.Reason = phrase.Of("The passage plays its ii–V as V, so %s is harmonised as %s. %s", sp.Chord, sp.Target, best.Reason)
	}
	if r.role == roleDim && playable(sp.Target) {
		sp.Reason = phrase.Of("%s passes to %s. Its notes are the away chord of the family of %s, the one that lies best in the key, whose notes fill the steps between.",
			sp.Chord, sp.Target, best.Family.HomeChord())
	}
	if r.upbeat {
		sp.Reason = phrase.Of("Before the first chord the melody takes the first chord. %s", sp.Reason)
	}
}

// visited adds to a function in which other key the chord is heard, and over
// which pedal.
func visited(label phrase.Phrase, s *stage, sp *Span, r *reading) phrase.Phrase {
	switch tonic := r.key.Tonic(); {
	case r.key == s.keyAt(sp.Start):
	case r.key.Mode() == theory.Minor:
		label = phrase.Of("%s in %s minor", label, tonic)
	default:
		label = phrase.Of("%s in %s", label, tonic)
	}
	if r.pedal {
		label = phrase.Of("%s over a pedal on %s", label, sp.Chord.Bass())
	}
	return label
}

func noneReason(c theory.Chord) phrase.Phrase {
	if c.IsNone() {
		return phrase.Of("No chord is in force (N.C.), so the lead plays alone.")
	}
	return phrase.Of("The chart has no chords, so the lead plays alone.")
}

// functionLabel writes the function in the numerals of the trade.
func functionLabel(sp *Span, r *reading, key theory.Key, asFive bool) phrase.Phrase {
	own := phrase.Verbatim(roman(sp.Chord, key))
	switch r.role {
	case roleTwo:
		if asFive {
			return phrase.Of("%s, played as V", twoNumeral(sp.Chord))
		}
		if playable(r.goal) {
			return phrase.Of("%s of %s", twoNumeral(sp.Chord), roman(r.goal, key))
		}
		return own
	case roleFive:
		return phrase.Of("V of %s", roman(r.goal, key))
	case roleSus:
		if r.pedal {
			return own // the bass does not move to suspend it
		}
		return phrase.Of("Vsus of %s", roman(sp.Target, key))
	case roleSub:
		return phrase.Of("tritone sub of V of %s", roman(r.goal, key))
	case roleBackdoor:
		return phrase.Of("backdoor V of %s", roman(r.goal, key))
	case roleLeadingDim:
		return phrase.Of("vii° of %s", roman(r.goal, key))
	case roleBlues:
		return phrase.Of("%s7", own)
	case roleDim:
		if label := dimLabel(sp, sp.Target, key); !label.IsZero() {
			return label
		}
	}
	if playable(sp.Chord) && isTonicInDisguise(sp.Chord, key) {
		return phrase.Of("%s, as i", own)
	}
	return own
}

func twoNumeral(c theory.Chord) string {
	if isHalfDiminished(c) {
		return "iiø"
	}
	return "ii"
}

var numerals = [7]string{"I", "II", "III", "IV", "V", "VI", "VII"}

// majorDegrees is the distance of each degree of the major scale from its
// first, which the numerals are counted against in either mode.
var majorDegrees = [7]int{0, 2, 4, 5, 7, 9, 11}

// degreeIn returns which degree of the major scale on a key's tonic a root is, from 0,
// and by how many semitones it is altered.
func degreeIn(key theory.Key, root theory.Name) (degree, alter int) {
	up := key.Tonic().To(root)
	return up.Steps(), up.Semitones() - majorDegrees[up.Steps()]
}

// roman writes a chord's degree in a key: capital for a major third, small for
// a minor one, with the alteration against the major scale in front ("bVII")
// and ø or ° behind. A root in another spelling than the key's has the degree that it
// sounds as: C# in G flat major is V. Without a key it is the chord's root.
func roman(c theory.Chord, key theory.Key) string {
	if !playable(c) {
		return ""
	}
	if !key.IsValid() {
		return c.Root().String()
	}
	degree, alter := degreeIn(key, c.Root())
	if n := numerals[degree]; alter > 1 || alter < -1 || alter > 0 && (n == "III" || n == "VII") || alter < 0 && (n == "I" || n == "IV") {
		degree, alter = degreeIn(key, key.Spell(c.Root().PC()))
	}
	sign := strings.Repeat("#", max(0, alter)) + strings.Repeat("b", max(0, -alter))
	numeral := numerals[degree]
	switch {
	case isHalfDiminished(c):
		return sign + strings.ToLower(numeral) + "ø"
	case isDiminished(c):
		return sign + strings.ToLower(numeral) + "°"
	case c.Has(3, -1):
		return sign + strings.ToLower(numeral)
	case c.Has(3, 0) && c.Has(5, 1):
		return sign + numeral + "+"
	}
	return sign + numeral
}
