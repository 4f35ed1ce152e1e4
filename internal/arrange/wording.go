package arrange

import (
	"strings"

	"organbook/internal/theory"
)

// writer puts candidates into words. It remembers the names it has printed,
// because a chart asks for few different ones many times; a writer belongs to
// one call and is not shared.
type writer struct {
	q        *search
	chords   map[theory.Chord]string
	families map[theory.Family]familyWords
}

// familyWords are the texts a family's reasons need.
type familyWords struct {
	home, away, dominant string
}

func (q *search) writer() *writer {
	return &writer{q: q, chords: map[theory.Chord]string{}, families: map[theory.Family]familyWords{}}
}

func (w *writer) chord(c theory.Chord) string {
	text, ok := w.chords[c]
	if !ok {
		text = c.String()
		w.chords[c] = text
	}
	return text
}

func (w *writer) family(f theory.Family) familyWords {
	words, ok := w.families[f]
	if !ok {
		away := f.Away()
		fromLeadingNote := [4]theory.Name{away[3], away[0], away[1], away[2]}
		words = familyWords{f.HomeChord().String(), spell(fromLeadingNote), f.Dominant().String()}
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

// goal names the chord a dominant leads to, with the family's home chord that
// stands for it where the two are written differently.
func (w *writer) goal(sp *spot, home string) string {
	if !playable(sp.reading.goal) {
		return home
	}
	return w.chord(sp.reading.goal.WithoutBass())
}

// degreeWords name the degrees of a chord by semitones above its root.
var degreeWords = [12]string{
	"root", "flat ninth", "ninth", "minor third", "third", "eleventh",
	"raised eleventh", "fifth", "flat thirteenth", "thirteenth", "seventh", "major seventh",
}

// degreeWord names a note's place over a chord's root, such as "the ninth".
func degreeWord(c theory.Chord, n theory.Name) string {
	up := (n.PC() - c.Root().PC() + 12) % 12
	switch {
	case up == 3 && c.Has(3, 0):
		return "the sharp ninth"
	case up == 3:
		return "the third"
	case up == 6 && c.Has(5, -1):
		return "the flat fifth"
	case up == 8 && c.Has(5, 1):
		return "the raised fifth"
	case up == 9 && (c.Has(6, 0) || c.Has(7, -2)):
		return "the sixth"
	case up == 11 && c.Has(7, 0):
		return "the seventh"
	}
	return "the " + degreeWords[up]
}
