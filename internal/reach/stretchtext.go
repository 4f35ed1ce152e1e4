package reach

import (
	"fmt"
	"slices"
)

func stretchText(s Stretch, hand Limb, keys []int) string {
	switch len(keys) {
	case 0:
		return fmt.Sprintf("the %v rests", hand)
	case 1:
		return fmt.Sprintf("the %v plays one key", hand)
	}
	w := Stretched(keys...)
	what := "comfortable"
	switch {
	case w > s.Maximal:
		what = fmt.Sprintf("beyond its widest, %.0f mm", s.Maximal)
	case w > s.Comfortable:
		what = fmt.Sprintf("beyond comfort, %.0f mm", s.Comfortable)
	}
	return fmt.Sprintf("the %v stretches %.0f mm (%s), %s", hand, w, intervalWord(slices.Max(keys)-slices.Min(keys)), what)
}

// intervalWords are the intervals of up to two octaves by their semitones.
var intervalWords = [...]string{
	"a unison", "a minor second", "a major second", "a minor third", "a major third", "a fourth", "a tritone", "a fifth",
	"a minor sixth", "a major sixth", "a minor seventh", "a major seventh", "an octave", "a minor ninth", "a major ninth",
	"a minor tenth", "a major tenth", "an eleventh", "an octave and a tritone", "a twelfth", "a minor thirteenth",
	"a major thirteenth", "a minor fourteenth", "a major fourteenth", "two octaves",
}

func intervalWord(semitones int) string {
	if semitones < len(intervalWords) {
		return intervalWords[semitones]
	}
	return fmt.Sprintf("%d semitones", semitones)
}
