package theory

import (
	"fmt"
	"strings"
)

// Letter is one of the seven note letters, C first.
type Letter int8

// The seven letters, in ascending order from C.
const (
	C Letter = iota
	D
	E
	F
	G
	A
	B
)

// letterSemitones is the distance of each natural above C.
var letterSemitones = [7]int{0, 2, 4, 5, 7, 9, 11}

// letterFifths is the place of each natural on the line of fifths, C at 0.
var letterFifths = [7]int{0, 2, 4, -1, 1, 3, 5}

// String returns the letter in upper case.
func (l Letter) String() string { return "CDEFGAB"[l : l+1] }

// MaxAlter is the most sharps or flats a name may carry. Three cover every
// spelling that transposing a double-altered lead sheet can reach.
const MaxAlter = 3

// Name is a spelled pitch class: a letter and its alteration, without an
// octave. The zero value names nothing and is not valid.
type Name struct {
	letter Letter
	alter  int8
	valid  bool
}

// NewName returns the name of letter raised by alter semitones (negative
// lowers). It returns the zero Name when alter lies outside ±MaxAlter or
// letter is none of the seven.
func NewName(letter Letter, alter int) Name {
	if letter < C || letter > B || alter < -MaxAlter || alter > MaxAlter {
		return Name{}
	}
	return Name{letter, int8(alter), true}
}

// NameFromFifths returns the name that stands f places from C on the line of
// fifths: -1 is F, 1 is G, 6 is F#. Names beyond triple alterations are
// respelled enharmonically toward C, so the result is always valid.
func NameFromFifths(f int) Name {
	for f > 26 { // B### stands at 26
		f -= 12
	}
	for f < -22 { // Fbbb stands at -22
		f += 12
	}
	// Adding one aligns F with 0, so sevens count alterations.
	alter := floorDiv(f+1, 7)
	letter := Letter(mod(f*4, 7))
	return Name{letter, int8(alter), true}
}

// IsValid reports whether the name names a pitch class.
func (n Name) IsValid() bool { return n.valid }

// Letter returns the letter.
func (n Name) Letter() Letter { return n.letter }

// Alter returns the alteration in semitones, sharps positive.
func (n Name) Alter() int { return int(n.alter) }

// PC returns the pitch class, 0 (C) to 11 (B).
func (n Name) PC() int { return mod(letterSemitones[n.letter]+int(n.alter), 12) }

// Fifths returns the place on the line of fifths, C at 0, sharps upward.
func (n Name) Fifths() int { return letterFifths[n.letter] + 7*int(n.alter) }

// Transpose returns the name an interval away, respelled toward C when the
// exact spelling would need more than MaxAlter accidentals.
func (n Name) Transpose(i Interval) Name {
	if !n.valid {
		return n
	}
	return NameFromFifths(n.Fifths() + i.Fifths())
}

// To returns the ascending interval, smaller than an octave, from n to m.
func (n Name) To(m Name) Interval { return intervalFromFifths(m.Fifths() - n.Fifths()) }

// String writes the name with ASCII accidentals: "Bb", "F##".
func (n Name) String() string {
	if !n.valid {
		return ""
	}
	if n.alter < 0 {
		return n.letter.String() + strings.Repeat("b", -int(n.alter))
	}
	return n.letter.String() + strings.Repeat("#", int(n.alter))
}

// Pretty writes the name with the accidental signs of print: "B♭", "F♯♯".
func (n Name) Pretty() string { return Pretty(n.String()) }

// Pretty replaces the ASCII accidentals that follow a note letter, a digit's
// place or an opening bracket in s by ♭ and ♯. It is meant for names, pitches
// and printed chord symbols, not for prose.
func Pretty(s string) string {
	if !strings.ContainsAny(s, "#b") {
		return s
	}
	return prettySigns.Replace(s)
}

// prettySigns is made once: making it takes longer than using it.
var prettySigns = strings.NewReplacer("#", "♯", "b", "♭")

// ParseName reads a note name: a letter of either case followed by any of
// # b ♯ ♭ x 𝄪 𝄫 ♮, up to MaxAlter semitones. The whole text must be used.
func ParseName(s string) (Name, error) {
	n, rest, err := scanName(s)
	if err == nil && rest != "" {
		err = fmt.Errorf("note name %q: unexpected %q", s, rest)
	}
	if err != nil {
		return Name{}, err
	}
	return n, nil
}

// MustParseName is ParseName for text that is known to be right; it panics
// otherwise and belongs in tables and tests.
func MustParseName(s string) Name {
	n, err := ParseName(s)
	if err != nil {
		panic(err)
	}
	return n
}

// scanName reads a note name from the front of s and returns what follows it.
func scanName(s string) (Name, string, error) {
	if s == "" {
		return Name{}, s, fmt.Errorf("note name: nothing to read")
	}
	i := strings.IndexByte("CDEFGAB", s[0]&^0x20)
	if i < 0 {
		return Name{}, s, fmt.Errorf("note name %q: a name starts with a letter from A to G", s)
	}
	alter, rest := scanAccidentals(s[1:])
	n := NewName(Letter(i), alter)
	if !n.valid {
		return Name{}, s, fmt.Errorf("note name %q: more than %d accidentals", s, MaxAlter)
	}
	return n, rest, nil
}

// accidentals lists every sign that alters a note, with its semitones.
var accidentals = []struct {
	sign  string
	alter int
}{
	{"#", 1}, {"b", -1}, {"♯", 1}, {"♭", -1}, {"♮", 0},
	{"x", 2}, {"𝄪", 2}, {"𝄫", -2},
}

// scanAccidentals sums the accidentals at the front of s.
func scanAccidentals(s string) (alter int, rest string) {
next:
	for {
		for _, a := range accidentals {
			if strings.HasPrefix(s, a.sign) {
				alter, s = alter+a.alter, s[len(a.sign):]
				continue next
			}
		}
		return alter, s
	}
}

func mod(a, n int) int { return ((a % n) + n) % n }

func floorDiv(a, n int) int { return (a - mod(a, n)) / n }
