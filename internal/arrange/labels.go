package arrange

import (
	"fmt"
	"strings"

	"organbook/internal/theory"
)

// describe writes the parts of a span that a reader sees.
func (sp *Span) describe(s *stage, spans []Span, readings []reading, next []int, i int) {
	r := &readings[i]
	if r.role == roleNone {
		sp.Reason = noneReason(sp.Chord)
		return
	}
	sp.Function = functionLabel(sp, r, r.key, r.playedAsFive(s, sp.Start)) + visitWords(s, sp, r)
	if len(r.services) == 0 {
		sp.Reason = fmt.Sprintf("No family serves %s; its blocks are made of its own notes.", sp.Chord)
		return
	}
	best := r.services[0]
	sp.Family, sp.Leading, sp.Reason = best.Family, best.Leading, best.Reason
	if r.playedAsFive(s, sp.Start) {
		sp.Reason = fmt.Sprintf("The passage plays its ii–V as V, so %s is harmonised as %s. %s", sp.Chord, sp.Target, best.Reason)
	}
	if r.upbeat {
		sp.Reason = "Before the first chord the melody takes the first chord. " + sp.Reason
	}
}

// visitWords says in which other key a chord is heard, and over which pedal.
func visitWords(s *stage, sp *Span, r *reading) (text string) {
	if r.key != s.keyAt(sp.Start) {
		text = " in " + r.key.Tonic().String()
		if r.key.Mode() == theory.Minor {
			text += " minor"
		}
	}
	if r.pedal {
		text += " over a pedal on " + sp.Chord.Bass().String()
	}
	return text
}

func noneReason(c theory.Chord) string {
	if c.IsNone() {
		return "No chord is in force (N.C.), so the lead plays alone."
	}
	return "The chart has no chords, so the lead plays alone."
}

// functionLabel writes the function in the numerals of the trade.
func functionLabel(sp *Span, r *reading, key theory.Key, asFive bool) string {
	own := roman(sp.Chord, key)
	switch r.role {
	case roleTwo:
		if asFive {
			return twoNumeral(sp.Chord) + ", played as V"
		}
		if playable(r.goal) {
			return twoNumeral(sp.Chord) + " of " + roman(r.goal, key)
		}
		return own
	case roleFive:
		return "V of " + roman(r.goal, key)
	case roleSub:
		return "tritone sub of V of " + roman(r.goal, key)
	case roleBackdoor:
		return "backdoor V of " + roman(r.goal, key)
	case roleLeadingDim:
		return "vii° of " + roman(r.goal, key)
	case roleBlues:
		return own + "7"
	case roleDim:
		if label := dimLabel(sp, sp.Target, key); label != "" {
			return label
		}
	}
	if playable(sp.Chord) && isTonicInDisguise(sp.Chord, key) {
		return own + ", as i"
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

// roman writes a chord's degree in a key: capital for a major third, small for
// a minor one, with the alteration against the major scale in front ("bVII")
// and ø or ° behind. Without a key it is the chord's root.
func roman(c theory.Chord, key theory.Key) string {
	if !playable(c) {
		return ""
	}
	if !key.IsValid() {
		return c.Root().String()
	}
	up := key.Tonic().To(c.Root())
	alter := up.Semitones() - majorDegrees[up.Steps()]
	sign := strings.Repeat("#", max(0, alter)) + strings.Repeat("b", max(0, -alter))
	numeral := numerals[up.Steps()]
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
