package theory

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// ChordError says why a text is not a chord symbol, and where.
type ChordError struct {
	// Input is the whole text.
	Input string
	// Reason says in a few words what is wrong.
	Reason string
	// At counts the characters of Input before the offending one.
	At int
	// Rest is the unread text, from the offending character on.
	Rest string
}

// Error writes the input, the reason and the place.
func (e *ChordError) Error() string {
	return fmt.Sprintf("chord %q: %s", e.Input, e.Problem())
}

// Problem is Error without the input, for places that show it anyway.
func (e *ChordError) Problem() string {
	if e.Rest == "" {
		return e.Reason + " at the end"
	}
	return fmt.Sprintf("%s at character %d, %q", e.Reason, e.At+1, e.Rest)
}

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
	p := chordParser{in: s}
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
	case "nc", "n c", "no chord", "nochord":
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
	in    string
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

	altered, adds, omits degreeSet
}

func (p *chordParser) parse() (Chord, error) {
	p.separators()
	if err := p.readRoot(); err != nil {
		return Chord{}, err
	}
	p.fresh = true
	for {
		start := p.pos
		p.separators()
		if p.pos == len(p.in) {
			break
		}
		if err := p.part(start == p.pos); err != nil {
			return Chord{}, err
		}
	}
	if n := len(p.opens); n > 0 {
		return Chord{}, p.fail(p.opens[n-1], "a bracket that is never closed")
	}
	return p.build()
}

func (p *chordParser) fail(at int, reason string, args ...any) error {
	return &ChordError{
		Input: p.in, Reason: fmt.Sprintf(reason, args...),
		At: utf8.RuneCountInString(p.in[:at]), Rest: p.in[at:],
	}
}

// separators skips what only groups: blanks, commas and opening brackets.
func (p *chordParser) separators() {
	for p.pos < len(p.in) {
		switch p.in[p.pos] {
		case ' ', '\t', ',':
		case '(', '[':
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

// part reads one part of the quality. touching tells that nothing separates
// it from the part before.
func (p *chordParser) part(touching bool) error {
	switch c := p.in[p.pos]; {
	case c == ')' || c == ']':
		return p.closeBracket()
	case c == '/':
		return p.slash()
	case c >= '0' && c <= '9':
		return p.plainNumber()
	case p.bass.valid:
		return p.fail(p.pos, "something after the bass")
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
// C7b9/13 and Cm/maj7.
func (p *chordParser) slash() error {
	p.pos++
	for p.pos < len(p.in) && p.in[p.pos] == ' ' {
		p.pos++
	}
	if p.bass.valid {
		return p.fail(p.pos-1, "a second bass")
	}
	name, n := scanChordNote(p.rest())
	alter, m := scanAlteration(p.rest())
	switch after := p.rest()[n:]; {
	case p.rest() == "":
		return p.fail(p.pos, "a bass from A to G is missing")
	case alter != 0 && startsWithDigit(p.rest()[m:]), startsWithDigit(p.rest()), p.startsWord():
		p.slashed = true
		return nil
	case n == 0:
		return p.fail(p.pos, "a bass is a note from A to G")
	case !name.valid:
		return p.fail(p.pos, "a bass with more than %d accidentals", MaxAlter)
	case strings.Trim(after, " )]/") != "":
		return p.fail(p.pos+n, "something after the bass")
	}
	p.bass, p.pos = name, p.pos+n
	return nil
}

func startsWithDigit(s string) bool { return s != "" && s[0] >= '0' && s[0] <= '9' }

// number reads the digits of a degree: two when they make 10 to 13 or 69.
func (p *chordParser) digits() (n int) {
	s := p.rest()
	if len(s) >= 2 && (s[:2] == "69" || s[0] == '1' && s[1] >= '0' && s[1] <= '3') {
		p.pos += 2
		return int(s[0]-'0')*10 + int(s[1]-'0')
	}
	if startsWithDigit(s) {
		p.pos++
		return int(s[0] - '0')
	}
	return 0
}

// plainNumber reads a number without accidental: the first one says how far
// the chord is stacked, the later ones are added.
func (p *chordParser) plainNumber() error {
	at := p.pos
	if p.bass.valid {
		return p.fail(at, "something after the bass")
	}
	n := p.digits()
	defer p.ordinal()
	apart := (len(p.opens) > 0 || p.slashed) && p.number == 0 && !p.major && p.triad != dominantWord
	switch fresh := p.fresh; {
	case n == 5 && fresh:
		p.triad = powerTriad
	case n == 2 && p.number == 0:
		p.adds |= degreeBit(2, 0)
	case n == 4 && p.number == 0 && fresh:
		p.sus |= degreeBit(4, 0)
	case n == 4 && p.number == 0, n == 4 && p.sus != 0:
		p.adds |= degreeBit(4, 0)
	case n == 69 && p.number == 0:
		p.number = 6
		p.adds |= degreeBit(9, 0)
	case (n == 9 || n == 11 || n == 13) && (p.number != 0 || apart):
		p.adds |= degreeBit(n, 0)
	case n == 6 && p.number >= 7:
		p.adds |= degreeBit(6, 0)
	case n == 7 && p.number == 6:
		p.number = 7
		p.adds |= degreeBit(6, 0)
	case p.number == 0 && (n == 6 || n == 7 || n == 9 || n == 11 || n == 13):
		p.number = n
	default:
		return p.fail(at, "a number that no chord has here")
	}
	p.fresh = false
	return nil
}

// ordinal skips the ending of 7th or 3rd.
func (p *chordParser) ordinal() {
	for _, ending := range [...]string{"th", "rd", "nd"} {
		if strings.HasPrefix(p.rest(), ending) {
			p.pos += len(ending)
			return
		}
	}
}

// signs are the marks before a degree. Plus and minus also stand for augmented
// and minor, which signed tells apart.
var signs = []struct {
	sign  string
	alter int
}{
	{"#", 1}, {"b", -1}, {"♯", 1}, {"♭", -1}, {"♮", 0}, {"𝄪", 2}, {"𝄫", -2},
	{"+", 1}, {"-", -1}, {"−", -1}, {"–", -1},
}

// scanSigns is scanAlteration with plus and minus signs.
func scanSigns(s string) (alter, n int) {
next:
	for {
		for _, a := range signs {
			if strings.HasPrefix(s[n:], a.sign) && alter*a.alter >= 0 {
				alter, n = alter+a.alter, n+len(a.sign)
				continue next
			}
		}
		return alter, n
	}
}

// signed reads an altered degree, or plus and minus as qualities.
func (p *chordParser) signed() (done bool, err error) {
	alter, n := scanSigns(p.rest())
	if n == 0 {
		return false, nil
	}
	digit := startsWithDigit(p.rest()[n:])
	plus, minus := strings.HasPrefix(p.rest(), "+"), p.isMinus()
	if (plus || minus) && (!digit || p.fresh && len(p.opens) == 0 && p.rest()[n] != '5') {
		return true, p.plusOrMinus(plus)
	}
	p.pos += n
	if !digit {
		return true, p.fail(p.pos, "an accidental without a degree such as 5, 9, 11 or 13")
	}
	return true, p.alteration(alter)
}

func (p *chordParser) isMinus() bool {
	for _, m := range [...]string{"-", "−", "–"} {
		if strings.HasPrefix(p.rest(), m) {
			return true
		}
	}
	return false
}

// plusOrMinus reads the sign as augmented (or a raised fifth) or as minor.
func (p *chordParser) plusOrMinus(plus bool) error {
	at := p.pos
	_, size := utf8.DecodeRuneInString(p.rest())
	p.pos += size
	switch {
	case plus && p.fresh:
		p.triad = augmentedTriad
	case plus:
		p.altered |= degreeBit(5, 1)
	case p.fresh:
		p.triad = minorTriad
	default:
		return p.fail(at, "a minus sign without a degree after it")
	}
	p.fresh = false
	return nil
}

// alteration reads the number of an altered degree.
func (p *chordParser) alteration(alter int) error {
	at := p.pos
	bit := symbolDegree(p.digits(), alter)
	if bit == 0 {
		return p.fail(at, "a degree that cannot be altered so")
	}
	p.ordinal()
	p.altered |= bit
	p.fresh = false
	return nil
}

// symbolDegree returns the degree that an accidental and a number name. One
// sharp before a seventh makes it major.
func symbolDegree(number, alter int) degreeSet {
	if number == 7 && alter > 0 {
		alter--
	}
	if number == 69 {
		return 0
	}
	return degreeBit(number, alter)
}
