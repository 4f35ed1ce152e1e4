package theory

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// ParseChord reads a chord symbol as lead sheets write it. The error is always
// a *ChordError.
//
// Accidentals belong to the root as far as they reach: "Cb5" is a power chord
// on C flat, and a flat fifth over C is "C(b5)" or "C-5". A root in lower case
// is accepted where a quality follows, since a bare "a" could mean A minor.
// Of one symbol's parts, alterations replace the degree they alter, whatever
// the order; "add" keeps it. Further readings: "2" adds a second, "4" is a
// suspended fourth, a second plain number such as the 13 of "C7(13)" is added.
func ParseChord(s string) (Chord, error) {
	if isNoChord(s) {
		return NoChord(), nil
	}
	p := chordParser{in: plainText(s), written: s}
	return p.parse()
}

// MustParseChord is ParseChord for text that is known to be right; it panics
// otherwise.
func MustParseChord(s string) Chord {
	c, err := ParseChord(s)
	if err != nil {
		panic(err)
	}
	return c
}

// isNoChord recognises N.C. with or without its dots, and the words.
func isNoChord(s string) bool {
	s = strings.TrimSpace(s)
	if len(s) == 0 || len(s) > 9 || s[0]|0x20 != 'n' {
		return false
	}
	switch strings.ToLower(strings.ReplaceAll(s, ".", "")) {
	case "nc", "n c", "n/c", "no chord", "nochord":
		return true
	}
	return false
}

// triad is the part of a quality that decides third and fifth.
type triad uint8

const (
	noTriad triad = iota
	minorTriad
	diminishedTriad
	halfDiminishedTriad
	augmentedTriad
	dominantWord
	powerTriad
)

// chordParser reads a symbol from left to right into the parts below, which
// build turns into degrees. Positions count bytes.
type chordParser struct {
	// in is the text with plain signs for those of print, written the text itself.
	in, written string

	pos   int
	opens []int // positions of the brackets still open

	root, bass Name
	fresh      bool // nothing of the quality has been read
	triad      triad
	major      bool // maj, M or the triangle: a major seventh if any
	triangle   bool // the triangle, which implies the seventh
	number     int  // 6, 7, 9, 11 or 13
	sus        degreeSet
	alt        bool
	slashed    bool // a slash has separated parts, as in C/9
	suspended  bool // the degree of the suspension stood before its word, as in C2sus

	altered, adds, omits degreeSet
}

func (p *chordParser) parse() (Chord, error) {
	p.separators()
	if err := p.readRoot(); err != nil {
		return Chord{}, err
	}
	p.fresh = true
	for p.separators(); p.pos < len(p.in); p.separators() {
		if err := p.part(); err != nil {
			return Chord{}, err
		}
	}
	if n := len(p.opens); n > 0 {
		return Chord{}, p.fail(p.opens[n-1], "a bracket that is never closed")
	}
	return p.build()
}

func (p *chordParser) fail(at int, reason string, args ...any) error {
	n := utf8.RuneCountInString(p.in[:at])
	rest := p.written
	for range n {
		_, size := utf8.DecodeRuneInString(rest)
		rest = rest[size:]
	}
	return &ChordError{Input: p.written, Reason: fmt.Sprintf(reason, args...), At: n, Rest: rest}
}

// separators skips what only groups: blanks, commas, opening brackets, and the
// full stop of an abbreviation.
func (p *chordParser) separators() {
	for p.pos < len(p.in) {
		switch p.in[p.pos] {
		case ' ', '\t', ',':
		case '.':
			if p.fresh || !p.root.valid {
				return
			}
		case '(', '[', '{':
			p.opens = append(p.opens, p.pos)
		default:
			return
		}
		p.pos++
	}
}

func (p *chordParser) rest() string { return p.in[p.pos:] }

// readRoot reads the root and the accidentals that touch it.
func (p *chordParser) readRoot() error {
	if p.rest() == "" {
		return p.fail(p.pos, "a root from A to G is missing")
	}
	name, n := scanChordNote(p.rest())
	if n == 0 {
		return p.fail(p.pos, "a chord starts with a root from A to G")
	}
	if !name.valid {
		return p.fail(p.pos, "a root with more than %d accidentals", MaxAlter)
	}
	lower := p.in[p.pos] >= 'a'
	p.root, p.pos = name, p.pos+n
	if lower && strings.TrimSpace(p.rest()) == "" {
		return p.fail(p.pos-n, "a lower-case root alone could be major or minor: write %s or %sm", name, name)
	}
	return nil
}

// scanChordNote reads a letter of either case and the run of equal accidentals
// after it, and returns how many bytes it took; 0 without a letter. Only equal
// signs are taken, so that C#b9 keeps its flat ninth. The name is not valid
// when there are too many.
func scanChordNote(s string) (Name, int) {
	if s == "" {
		return Name{}, 0
	}
	letter := strings.IndexByte("CDEFGAB", s[0]&^0x20)
	if letter < 0 || s[0] < 'A' {
		return Name{}, 0
	}
	alter, n := scanAlteration(s[1:])
	if n == 0 {
		alter, n = scanAlterWord(s[1:])
	}
	return NewName(Letter(letter), alter), 1 + n
}

// scanAlteration reads a run of accidentals that point the same way, and
// returns their sum and the bytes they take.
func scanAlteration(s string) (alter, n int) {
next:
	for {
		for _, a := range accidentals {
			if strings.HasPrefix(s[n:], a.sign) && alter*a.alter >= 0 {
				alter, n = alter+a.alter, n+len(a.sign)
				continue next
			}
		}
		return alter, n
	}
}

// part reads one part of the quality.
func (p *chordParser) part() error {
	switch c := p.in[p.pos]; {
	case c == ')' || c == ']' || c == '}':
		return p.closeBracket()
	case c == '/':
		return p.slash(1)
	case startsWithNumber(p.rest()):
		return p.plainNumber()
	case p.bass.valid:
		return p.fail(p.pos, "something after the bass")
	}
	if n := scanBassWord(p.rest()); n > 0 {
		return p.slash(n)
	}
	if done, err := p.signed(); done {
		return err
	}
	return p.word()
}

func (p *chordParser) closeBracket() error {
	n := len(p.opens)
	if n == 0 {
		return p.fail(p.pos, "a bracket that was never opened")
	}
	p.opens = p.opens[:n-1]
	p.pos++
	return nil
}

// slash reads a bass, or skips a slash that only separates, as in C6/9,
// C7b9/13 and Cm/maj7. size is what the slash, or the word for it, takes.
func (p *chordParser) slash(size int) error {
	at := p.pos
	p.pos += size
	for p.pos < len(p.in) && p.in[p.pos] == ' ' {
		p.pos++
	}
	if p.bass.valid {
		return p.fail(at, "a second bass")
	}
	name, n := scanChordNote(p.rest())
	alter, m := scanSigns(p.rest())
	switch after := p.rest()[n:]; {
	case p.rest() == "":
		return p.fail(p.pos, "a bass from A to G is missing")
	case alter != 0 && startsWithDigit(p.rest()[m:]), startsWithNumber(p.rest()), p.startsAddition():
		p.slashed = true
		return nil
	case n == 0:
		return p.fail(p.pos, "a bass is a note from A to G")
	case !name.valid:
		return p.fail(p.pos, "a bass with more than %d accidentals", MaxAlter)
	case hasBassAfter(after):
		after = strings.TrimLeft(after, " ")[len("bass"):]
		n = len(p.rest()) - len(after)
	}
	if strings.Trim(p.rest()[n:], " )]}/") != "" {
		return p.fail(p.pos+n, "something after the bass")
	}
	p.bass, p.pos = name, p.pos+n
	return nil
}

// hasBassAfter reports whether a bass note is called that, as in C/E bass.
func hasBassAfter(s string) bool {
	s = strings.TrimLeft(s, " ")
	return len(s) >= 4 && strings.EqualFold(s[:4], "bass")
}

// startsWithNumber reports whether a degree follows, in digits or spelled out.
func startsWithNumber(s string) bool {
	_, n := scanNumberWord(s)
	return n > 0 || startsWithDigit(s)
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }
