package theory

import "strings"

// digits reads a degree: its digits, two when they make 10 to 13 or 69, or its
// word.
func (p *chordParser) digits() (n int) {
	s := p.rest()
	if number, size := scanNumberWord(s); size > 0 {
		p.pos += size
		return number
	}
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
	if alter, size := p.signAfter(n); size > 0 {
		p.pos += size
		return p.alter(at, n, alter)
	}
	known := p.number == 0 && p.firstNumber(n) || p.number != 0 && (p.laterNumber(n) || p.majorSeventhLater(at, n))
	if !known {
		return p.fail(at, "a number that no chord has here")
	}
	p.ordinal()
	p.fresh = false
	return nil
}

// firstNumber takes the number that says what is stacked, or a small one that
// replaces or adds. Behind a bracket or a slash, as in C(9), it only adds.
func (p *chordParser) firstNumber(n int) bool {
	apart := (len(p.opens) > 0 || p.slashed) && !p.major && p.triad != dominantWord
	switch {
	case n == 5 && p.fresh:
		p.triad = powerTriad
	case n == 4 && p.fresh:
		p.sus |= degreeBit(4, 0)
	case n == 2 && p.fresh && startsSuspension(p.rest()): // C2sus
		p.sus |= degreeBit(2, 0)
		p.suspended = true
	case n == 2 || n == 4:
		p.adds |= degreeBit(n, 0)
	case n == 69:
		p.number = 6
		p.adds |= degreeBit(9, 0)
	case apart && (n == 9 || n == 11 || n == 13):
		p.adds |= degreeBit(n, 0)
	case n == 6 || n == 7 || n == 9 || n == 11 || n == 13:
		p.number = n
	default:
		return false
	}
	return true
}

// laterNumber adds what follows the first number, as in C7(13) and C7/6.
func (p *chordParser) laterNumber(n int) bool {
	switch {
	case n == 7 && p.number == 6:
		p.number = 7
		p.adds |= degreeBit(6, 0)
	case n == 4 && p.sus == 0 && !p.isMinor():
		p.sus |= degreeBit(4, 0)
	case n == 6 && p.number == 9 && p.in[p.pos-2] == '/' && p.triad == noTriad && !p.major:
		p.number = 6 // C9/6 is C6/9 the other way round
		p.adds |= degreeBit(9, 0)
	case n == 6 && p.number >= 7, n == 4, n == 9, n == 11, n == 13:
		p.adds |= degreeBit(n, 0)
	default:
		return false
	}
	return true
}

// majorSeventhLater recognises the seventh of a major word behind a number that
// is stacked higher, as in Cm9(maj7): the word has said all already.
func (p *chordParser) majorSeventhLater(at, n int) bool {
	before := p.in[at-1]
	return n == 7 && p.major && p.number > 7 && before != '(' && before != ' ' && (before < '0' || before > '9')
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

// plusMinus are the signs that stand for accidentals before a degree, and
// alone for augmented and minor.
var plusMinus = [...]struct {
	sign  string
	alter int
}{{"+", 1}, {"-", -1}, {"−", -1}, {"–", -1}}

// scanPlusMinus reads one plus or minus sign and the bytes it takes.
func scanPlusMinus(s string) (alter, n int) {
	for _, a := range plusMinus {
		if strings.HasPrefix(s, a.sign) {
			return a.alter, len(a.sign)
		}
	}
	return 0, 0
}

// scanSigns reads what may stand before a degree: accidentals, or one plus or
// minus. The x that doubles a root's sharp does not count.
func scanSigns(s string) (alter, n int) {
	if alter, n = scanPlusMinus(s); n > 0 || strings.HasPrefix(s, "x") {
		return alter, n
	}
	if alter, n = scanAlterWord(s); n > 0 {
		return alter, n
	}
	return scanAlteration(s)
}

// signAfter reads a plus or minus behind the degree n that was just read, as
// in C7(9-) and Cm7/5-. The first number of a symbol has none, since C7+ is
// augmented, unless it is a 5.
func (p *chordParser) signAfter(n int) (alter, size int) {
	if p.number == 0 && len(p.opens) == 0 && !p.slashed && n != 5 {
		return 0, 0
	}
	alter, size = scanPlusMinus(p.rest())
	if size > 0 && startsWithDigit(p.rest()[size:]) {
		return 0, 0
	}
	return alter, size
}

// signed reads an altered degree, or plus and minus as qualities.
func (p *chordParser) signed() (done bool, err error) {
	alter, n := scanSigns(p.rest())
	if n == 0 {
		return false, nil
	}
	digit := startsWithNumber(p.rest()[n:])
	quality := p.fresh && len(p.opens) == 0 && !strings.HasPrefix(p.rest()[n:], "5")
	if _, sign := scanPlusMinus(p.rest()); sign > 0 && (!digit || quality) {
		return true, p.plusOrMinus(alter > 0, sign)
	}
	p.pos += n
	if !digit {
		return true, p.fail(p.pos, "an accidental without a degree such as 5, 9, 11 or 13")
	}
	at := p.pos
	return true, p.alter(at, p.digits(), alter)
}

// plusOrMinus reads the sign as augmented (or a raised fifth) or as minor.
func (p *chordParser) plusOrMinus(plus bool, size int) error {
	switch {
	case plus && p.fresh:
		p.triad = augmentedTriad
	case plus:
		p.altered |= degreeBit(5, 1)
	case p.fresh && isHyphen(p.rest()[size:]):
		// the hyphen of C-major and C-minor
		p.pos += size
		return nil
	case p.fresh:
		p.triad = minorTriad
	case p.triad == minorTriad && startsMajor(p.rest()[size:]):
		// the hyphen of minor-major
	default:
		return p.fail(p.pos, "a minus sign without a degree after it")
	}
	p.pos += size
	p.fresh = false
	return nil
}

// isHyphen reports whether a minus before the rest only joins the root to its
// mode: before "minor", and before "major" where that is all. C-maj7 is minor with
// a major seventh.
func isHyphen(s string) bool {
	return len(s) >= 5 && strings.EqualFold(s[:5], "minor") || strings.EqualFold(strings.TrimRight(s, " "), "major")
}

// startsSuspension reports whether "sus" follows.
func startsSuspension(s string) bool {
	meaning, n := scanWord(s)
	return n > 0 && meaning == wordSus
}

// startsMajor reports whether a word for major follows.
func startsMajor(s string) bool {
	meaning, n := scanWord(s)
	return n > 1 && meaning == wordMajor
}

// alter notes an altered degree whose number stands at a position.
func (p *chordParser) alter(at, number, alter int) error {
	bit := symbolDegree(number, alter)
	if bit == 0 {
		return p.fail(at, "a degree that cannot be altered so")
	}
	p.ordinal()
	p.altered |= bit
	p.fresh = false
	return nil
}

// symbolDegree returns the degree that an accidental and a number name. One
// sharp before a seventh makes it major, and a lowered tenth over a major third is
// the raised ninth.
func symbolDegree(number, alter int) degreeSet {
	if number == 10 && alter == -1 {
		return degreeBit(9, 1)
	}
	if number == 7 && alter > 0 {
		alter--
	}
	return degreeBit(number, alter)
}
