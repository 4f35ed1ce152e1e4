package theory

import "strings"

// chordWord is what a word in a symbol says.
type chordWord uint8

const (
	wordMinor chordWord = iota
	wordMajor
	wordTriangle
	wordAugmented
	wordDiminished
	wordHalfDiminished
	wordDominant
	wordSus
	wordAlt
	wordAdd
	wordOmit
)

// chordWords are the words and signs of chord qualities, longer ones before
// those they begin with. Words of one letter and words marked exact are told
// apart by case: M is major and m is minor.
var chordWords = []struct {
	text    string
	meaning chordWord
}{
	{"half-diminished", wordHalfDiminished},
	{"half diminished", wordHalfDiminished},
	{"halfdiminished", wordHalfDiminished},
	{"half-dim", wordHalfDiminished},
	{"half dim", wordHalfDiminished},
	{"halfdim", wordHalfDiminished},
	{"hdim", wordHalfDiminished},
	{"ø", wordHalfDiminished},
	{"Ø", wordHalfDiminished},
	{"∅", wordHalfDiminished},
	{"⌀", wordHalfDiminished},
	{"h", wordHalfDiminished},
	{"diminished", wordDiminished},
	{"dim", wordDiminished},
	{"°", wordDiminished},
	{"º", wordDiminished},
	{"˚", wordDiminished},
	{"augmented", wordAugmented},
	{"aug", wordAugmented},
	{"minor", wordMinor},
	{"min", wordMinor},
	{"mi", wordMinor},
	{"major", wordMajor},
	{"maj", wordMajor},
	{"ma", wordMajor},
	{"Δ", wordTriangle},
	{"∆", wordTriangle},
	{"△", wordTriangle},
	{"▵", wordTriangle},
	{"^", wordTriangle},
	{"j", wordTriangle},
	{"dominant", wordDominant},
	{"dom", wordDominant},
	{"suspended", wordSus},
	{"sus", wordSus},
	{"altered", wordAlt},
	{"alt", wordAlt},
	{"add", wordAdd},
	{"omit", wordOmit},
	{"no", wordOmit},
	{"o", wordDiminished},
	{"m", wordMinor},
	{"M", wordMajor},
}

// scanWord returns the word at the front of s and its length, 0 for none.
func scanWord(s string) (chordWord, int) {
	for _, w := range chordWords {
		n := len(w.text)
		if len(s) < n || !matchWord(s[:n], w.text) {
			continue
		}
		// In Cmadd9 and CMadd9 the a belongs to "add".
		if n == 2 && w.meaning == wordMajor && startsWithAWord(s[1:]) {
			continue
		}
		return w.meaning, n
	}
	return 0, 0
}

func startsWithAWord(s string) bool {
	return len(s) >= 3 && (strings.EqualFold(s[:3], "add") || strings.EqualFold(s[:3], "alt"))
}

// matchWord compares single letters by case and longer words without it.
func matchWord(s, word string) bool {
	if len(word) == 1 {
		return s == word
	}
	return strings.EqualFold(s, word)
}

// startsAddition reports whether a word follows that a slash may set off, as
// in Cm/maj7 and C/add9.
func (p *chordParser) startsAddition() bool {
	meaning, n := scanWord(p.rest())
	if n == 0 {
		return false
	}
	switch meaning {
	case wordMajor, wordTriangle, wordAdd, wordOmit, wordSus:
		return true
	}
	return false
}

// word reads a quality written as a word or a sign of its own.
func (p *chordParser) word() error {
	at := p.pos
	meaning, n := scanWord(p.rest())
	if n == 0 {
		return p.fail(at, "nothing that belongs to a chord symbol")
	}
	p.pos += n
	fresh := p.fresh
	p.fresh = false
	switch meaning {
	case wordSus:
		return p.suspension(at)
	case wordAlt:
		p.alt = true
		return nil
	case wordAdd:
		return p.addition()
	case wordOmit:
		return p.omission()
	case wordMajor, wordTriangle:
		return p.majorWord(at, meaning == wordTriangle)
	case wordAugmented, wordDiminished:
		if !fresh && p.number != 0 {
			return p.alteringWord(at, meaning)
		}
	}
	return p.setTriad(at, meaning)
}

// alteringWord reads "aug" or "dim" behind a number: before a degree it raises or
// lowers that one, as in C7aug9, and alone "aug" raises the fifth.
func (p *chordParser) alteringWord(at int, meaning chordWord) error {
	alter := 1
	if meaning == wordDiminished {
		alter = -1
	}
	p.separators()
	switch degree := p.pos; {
	case startsWithNumber(p.rest()):
		return p.alter(degree, p.digits(), alter)
	case meaning == wordAugmented:
		p.altered |= degreeBit(5, 1)
		return nil
	}
	return p.setTriad(at, meaning)
}

func (p *chordParser) setTriad(at int, meaning chordWord) error {
	if p.triad != noTriad || p.number != 0 || p.major {
		return p.fail(at, "a second quality")
	}
	switch meaning {
	case wordMinor:
		p.triad = minorTriad
	case wordDiminished:
		p.triad = diminishedTriad
	case wordHalfDiminished:
		p.triad = halfDiminishedTriad
	case wordAugmented:
		p.triad = augmentedTriad
	case wordDominant:
		p.triad = dominantWord
	}
	return nil
}

// majorWord notes that the seventh is major. It may follow the number, as in
// C7M.
func (p *chordParser) majorWord(at int, triangle bool) error {
	if p.triad == diminishedTriad && p.number == 7 && !p.major {
		p.separators() // Cdim7(maj7) has both sevenths
		return p.addDegree(7, 0)
	}
	if p.major || p.triad == dominantWord || p.triad == halfDiminishedTriad || p.triad == powerTriad {
		return p.fail(at, "a second quality")
	}
	p.major, p.triangle = true, triangle
	return nil
}

// suspension reads what follows "sus": 2, 4, both, or nothing for 4.
func (p *chordParser) suspension(at int) error {
	if p.triad == powerTriad {
		return p.fail(at, "a second quality")
	}
	sus := degreeSet(0)
	for len(p.rest()) > 0 && (p.rest()[0] == '2' || p.rest()[0] == '4') {
		sus |= degreeBit(int(p.rest()[0]-'0'), 0)
		p.pos++
	}
	if sus == 0 && !p.suspended {
		sus = degreeBit(4, 0)
	}
	p.sus |= sus
	return nil
}

// addition reads the degree after "add".
func (p *chordParser) addition() error {
	p.separators()
	if word, n := scanWord(p.rest()); n > 0 && word == wordMajor {
		p.pos += n
		return p.addDegree(7, 0)
	}
	alter, n := scanSigns(p.rest())
	p.pos += n
	at := p.pos
	number := p.digits()
	if number == 7 && alter == 0 {
		alter = -1
	}
	bit := symbolDegree(number, alter)
	if bit == 0 {
		return p.fail(at, "no degree that could be added")
	}
	p.ordinal()
	p.adds |= bit
	return nil
}

// addDegree reads the number that must follow and adds the degree.
func (p *chordParser) addDegree(number, alter int) error {
	at := p.pos
	if p.digits() != number {
		return p.fail(at, "no degree that could be added")
	}
	p.ordinal()
	p.adds |= degreeBit(number, alter)
	return nil
}

// omission reads the degree after "no" or "omit".
func (p *chordParser) omission() error {
	p.separators()
	if len(p.rest()) >= 4 && strings.EqualFold(p.rest()[:4], "root") {
		p.pos += len("root")
		p.omits |= degreeMask(1)
		return nil
	}
	at := p.pos
	mask := degreeMask(p.digits())
	if mask == 0 {
		return p.fail(at, "no degree that could be left out")
	}
	p.ordinal()
	p.omits |= mask
	return nil
}
