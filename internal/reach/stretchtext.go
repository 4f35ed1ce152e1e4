package reach

import (
	"slices"

	"organbook/internal/phrase"
)

func stretchText(s Stretch, hand Limb, keys []int) phrase.Phrase {
	switch len(keys) {
	case 0:
		return phrase.Of("%s rests", subjects[hand])
	case 1:
		return phrase.Of("%s plays one key", subjects[hand])
	}
	w := Stretched(keys...)
	what := phrase.Of("comfortable")
	switch {
	case w > s.Maximal:
		what = phrase.Of("beyond its widest, %.0f mm", s.Maximal)
	case w > s.Comfortable:
		what = phrase.Of("beyond comfort, %.0f mm", s.Comfortable)
	}
	return phrase.Of("%s stretches %.0f mm (%s), %s", subjects[hand], w, intervalWord(slices.Max(keys)-slices.Min(keys)), what)
}

// intervalWords are the intervals of up to two octaves by their semitones.
var intervalWords = [...]string{
	"a unison", "a minor second", "a major second", "a minor third", "a major third", "a fourth", "a tritone", "a fifth",
	"a minor sixth", "a major sixth", "a minor seventh", "a major seventh", "an octave", "a minor ninth", "a major ninth",
	"a minor tenth", "a major tenth", "an eleventh", "an octave and a tritone", "a twelfth", "a minor thirteenth",
	"a major thirteenth", "a minor fourteenth", "a major fourteenth", "two octaves",
}

func intervalWord(semitones int) phrase.Phrase {
	if semitones < len(intervalWords) {
		return phrase.Of(intervalWords[semitones])
	}
	return phrase.Of("%d semitones", semitones)
}
