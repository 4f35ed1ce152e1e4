package theory

import "strings"

// A chord is named by a base and the changes that lead from the base to the
// chord, degree by degree. For a degree that the base has in the forms B and
// the chord in the forms S there is nothing to say when B = S; forms are added
// when S contains B; the degree is left out when S is empty; and otherwise S
// takes the place of B. The parser applies changes by the same rule, which is
// why a printed symbol reads back as the same chord.

// The weight of each change when bases compete for a chord: an altered degree
// fifth or tension is easier to read than an added or a missing degree, but
// nobody writes a lowered sixth in place of a sixth.
const (
	alterWeight = 2
	addWeight   = 3
	omitWeight  = 3
	swapWeight  = 4 // altered 2, 3, 4, 6 or 7
)

// changeOrder is the order in which a symbol writes changed degrees. The fifth
// follows the tensions, as in C7b9#5; what a symbol rarely touches is last.
var changeOrder = [...]int{9, 11, 13, 5, 6, 7, 2, 4, 3, 1}

// String writes the symbol in the house style, in ASCII: "Cm7b5/Gb", "N.C.".
// The zero Chord is written as nothing.
func (c Chord) String() string {
	if c.none {
		return "N.C."
	}
	if !c.IsValid() {
		return ""
	}
	var b strings.Builder
	b.Grow(16)
	b.WriteString(c.root.String())
	writeQuality(&b, c.tones)
	if c.bass.valid {
		b.WriteByte('/')
		b.WriteString(c.bass.String())
	}
	return b.String()
}

// Pretty writes the symbol with the accidentals of print: "Cm7♭5/G♭".
func (c Chord) Pretty() string { return Pretty(c.String()) }

func writeQuality(b *strings.Builder, tones degreeSet) {
	base := bestBase(tones)
	b.WriteString(base.text)
	if base.degrees == tones {
		return
	}
	// An accidental right after the root would be read as the root's own.
	guard := base.text == ""
	for _, number := range changeOrder {
		if (base.degrees^tones)&degreeMask(number) == 0 {
			continue
		}
		for _, word := range changeWords(base.degrees, tones, number) {
			if guard && (word[0] == 'b' || word[0] == '#') {
				word = "(" + word + ")"
			}
			guard = false
			b.WriteString(word)
		}
	}
}

// bestBase returns the base with the lightest changes.
func bestBase(tones degreeSet) *chordBase {
	for i := range chordBases {
		if chordBases[i].degrees == tones {
			return &chordBases[i]
		}
	}
	var best *chordBase
	bestWeight := 0
	for i := range chordBases {
		base := &chordBases[i]
		if base.exact {
			continue
		}
		if w := changesWeight(base.degrees, tones); best == nil || w < bestWeight {
			best, bestWeight = base, w
		}
	}
	return best
}

// change is how one degree differs between a base and a chord.
type change struct {
	omit  bool      // the base's forms are left out by name
	alter degreeSet // forms written bare: they take the place of the base's
	add   degreeSet // forms written with "add"
}

// changeOf compares the forms of a degree in a base and in a chord. bare tells
// whether altered tensions (9, 11, 13) stand without "add", as they do over a
// sixth or seventh.
func changeOf(base, tones degreeSet, number int, bare bool) change {
	b, s := base&degreeMask(number), tones&degreeMask(number)
	plain := degreeBit(number, 0)
	switch {
	case b == s:
		return change{}
	case s == 0:
		return change{omit: true}
	case b == 0 && (!bare || number < 9):
		return change{add: s}
	case b == 0:
		return change{alter: s &^ plain, add: s & plain}
	case s&b == b:
		return change{add: s &^ b}
	case s&plain == 0:
		return change{alter: s}
	}
	return change{omit: true, add: s}
}

func changesWeight(base, tones degreeSet) (w int) {
	bare := isSeventhOrSixth(tones)
	for _, number := range changeOrder {
		if (base^tones)&degreeMask(number) == 0 {
			continue
		}
		c := changeOf(base, tones, number, bare)
		weight := swapWeight
		if number == 5 || number >= 9 {
			weight = alterWeight
		}
		w += weight*c.alter.len() + addWeight*c.add.len()
		if c.omit {
			w += omitWeight
		}
	}
	return w
}

func isSeventhOrSixth(tones degreeSet) bool { return tones.any(7) || tones.any(6) }

// changeWords writes the changes of one degree, lowered forms first.
func changeWords(base, tones degreeSet, number int) (words []string) {
	c := changeOf(base, tones, number, isSeventhOrSixth(tones))
	if c.omit {
		words = append(words, "no"+degree{number, 0}.String())
	}
	for s := c.alter; s != 0; {
		words = append(words, s.next().word())
	}
	for s := c.add; s != 0; {
		words = append(words, "add"+s.next().word())
	}
	return words
}

// word writes a degree as symbols do. The seventh is the odd one: "b7" is
// minor, the major one is "maj7", and "##7" lies above that.
func (d degree) word() string {
	if d.number != 7 || d.alter < 0 {
		return d.String()
	}
	if d.alter == 0 {
		return "maj7"
	}
	return degree{7, d.alter + 1}.String()
}
