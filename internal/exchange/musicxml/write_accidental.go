package musicxml

import (
	"slices"

	"organbook/internal/theory"
)

// accidentalNames gives the standard's names of the printed signs.
var accidentalNames = map[int]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}

// place is a line or space of a staff.
type place struct {
	staff, diatonic int
}

// setAccidentals decides which notes of a bar print a sign: those that differ
// from what the key signature, or an earlier note of the bar on the same line,
// says. A note tied over from before prints none. When two voices start on
// one line at once with different alterations, both print their sign.
func setAccidentals(chords []*chord, key theory.Key) {
	inOrder := slices.Clone(chords)
	slices.SortStableFunc(inOrder, func(a, b *chord) int { return int(a.from - b.from) })
	state := map[place]int{}
	for _, c := range inOrder {
		for _, h := range c.heads {
			at, alter := place{h.staff, h.pitch.Diatonic()}, h.pitch.Name().Alter()
			now, ok := state[at]
			if !ok {
				now = signatureAlter(key, h.pitch.Name().Letter())
			}
			if h.tieStop || alter == now {
				continue
			}
			h.accidental = accidentalNames[alter]
			state[at] = alter
		}
	}
}

// signatureAlter returns what the signature of a key does to a letter: sharps
// from F and flats from B, by fifths.
func signatureAlter(key theory.Key, letter theory.Letter) int {
	// The letter's place in the order of sharps F C G D A E B.
	place := theory.NewName(letter, 0).Fifths() + 1
	fifths := key.Fifths()
	if fifths > 0 {
		return (fifths + 6 - place) / 7
	}
	return -((-fifths + place) / 7)
}
