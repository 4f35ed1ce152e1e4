package arrange

import (
	"strings"

	"organbook/internal/phrase"
	"organbook/internal/theory"
)

// writer puts candidates into words. It remembers the names it has printed,
// because a chart asks for few different ones many times; a writer belongs to
// one call and is not shared.
type writer struct {
	q        *search
	chords   map[theory.Chord]phrase.Phrase
	families map[theory.Family]familyWords
}

// familyWords are the texts a family's reasons need.
type familyWords struct {
	home, away, dominant phrase.Phrase
}

func (q *search) writer() *writer {
	return &writer{q: q, chords: map[theory.Chord]phrase.Phrase{}, families: map[theory.Family]familyWords{}}
}

func (w *writer) chord(c theory.Chord) phrase.Phrase {
	text, ok := w.chords[c]
	if !ok {
		text = phrase.Verbatim(c.String())
		w.chords[c] = text
	}
	return text
}

func (w *writer) family(f theory.Family) familyWords {
	words, ok := w.families[f]
	if !ok {
		away := f.Away()
		fromLeadingNote := [4]theory.Name{away[3], away[0], away[1], away[2]}
		words = familyWords{phrase.Verbatim(f.HomeChord().String()), phrase.Verbatim(spell(fromLeadingNote)), phrase.Verbatim(f.Dominant().String())}
		w.families[f] = words
	}
	return words
}

// spell writes note names with spaces between.
func spell(names [4]theory.Name) string {
	var b strings.Builder
	for i, n := range names {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(n.String())
	}
	return b.String()
}

// goal names the chord a dominant leads to: the family's home chord where none is
// known. A diminished chord that passes is served by a family that may not be in
// the chart at all, so what it leads to is the span's target.
func (w *writer) goal(sp *spot, home phrase.Phrase) phrase.Phrase {
	goal := sp.reading.goal
	if sp.reading.role == roleDim {
		goal = w.q.stage.spans[sp.span].Target
	}
	if !playable(goal) {
		return home
	}
	return w.chord(goal.WithoutBass())
}

// degreeWords name the degrees of a chord by semitones above its root.
var degreeWords = [12]phrase.Phrase{
	phrase.Of("the root"), phrase.Of("the flat ninth"), phrase.Of("the ninth"), phrase.Of("the minor third"),
	phrase.Of("the third"), phrase.Of("the eleventh"), phrase.Of("the raised eleventh"), phrase.Of("the fifth"),
	phrase.Of("the flat thirteenth"), phrase.Of("the thirteenth"), phrase.Of("the seventh"), phrase.Of("the major seventh"),
}

var (
	sharpNinth  = phrase.Of("the sharp ninth")
	flatFifth   = phrase.Of("the flat fifth")
	raisedFifth = phrase.Of("the raised fifth")
	sixthDegree = phrase.Of("the sixth")
)

// degreeWord names a note's place over a chord's root, such as "the ninth".
func degreeWord(c theory.Chord, n theory.Name) phrase.Phrase {
	up := (n.PC() - c.Root().PC() + 12) % 12
	switch {
	case up == 3 && c.Has(3, 0):
		return sharpNinth
	case up == 3:
		return degreeWords[4]
	case up == 6 && c.Has(5, -1):
		return flatFifth
	case up == 8 && c.Has(5, 1):
		return raisedFifth
	case up == 9 && (c.Has(6, 0) || c.Has(7, -2)):
		return sixthDegree
	case up == 11 && c.Has(7, 0):
		return degreeWords[10]
	}
	return degreeWords[up]
}
