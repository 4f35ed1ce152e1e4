package theory

import "strings"

// plainRunes are signs of print that stand for plain ones: raised and lowered
// figures, the dashes and blanks of typesetting, and what a screen does not show
// at all. Each is one character for one, so that a place in the plain text is
// the place in the text as it was.
var plainRunes = map[rune]rune{
	'⁰': '°', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9',
	'₀': '°', '₁': '1', '₂': '2', '₃': '3', '₄': '4', '₅': '5', '₆': '6', '₇': '7', '₈': '8', '₉': '9',
	'⁺': '+', '⁻': '-', '⁽': '(', '⁾': ')', '₊': '+', '₋': '-', '₍': '(', '₎': ')', 'ᵒ': '°', '○': '°',
	'‐': '-', '‑': '-', '‒': '-', '—': '-', '﹣': '-', '－': '-', '＋': '+', '＃': '#', '⁄': '/', '∕': '/', '／': '/',
	'\u00a0': ' ', '\u2007': ' ', '\u2008': ' ', '\u2009': ' ', '\u200a': ' ', '\u202f': ' ', '\u3000': ' ',
	'\u200b': ' ', '\u200c': ' ', '\u200d': ' ', '\u2060': ' ', '\ufeff': ' ', '\ufe0e': ' ', '\ufe0f': ' ',
}

// plainText replaces the signs of print in a symbol.
func plainText(s string) string {
	for i := range len(s) {
		if s[i] >= 0x80 {
			return strings.Map(func(r rune) rune {
				if plain, ok := plainRunes[r]; ok {
					return plain
				}
				return r
			}, s)
		}
	}
	return s
}

// numberWords are the degrees as theory texts spell them out.
var numberWords = []struct {
	text   string
	number int
}{
	{"thirteenth", 13}, {"eleventh", 11}, {"seventh", 7}, {"second", 2}, {"fourth", 4},
	{"fifth", 5}, {"sixth", 6}, {"ninth", 9}, {"third", 3},
}

// scanNumberWord reads a degree that is spelled out, and the bytes it takes; 0
// without one.
func scanNumberWord(s string) (number, n int) {
	for _, w := range numberWords {
		if len(s) >= len(w.text) && strings.EqualFold(s[:len(w.text)], w.text) {
			return w.number, len(w.text)
		}
	}
	return 0, 0
}

// alterWords are the accidentals as theory texts spell them out.
var alterWords = []struct {
	text  string
	alter int
}{{"flat", -1}, {"sharp", 1}, {"natural", 0}}

// scanAlterWord reads an accidental that is spelled out, with a hyphen or blanks
// around it, and the bytes it takes; 0 without one.
func scanAlterWord(s string) (alter, n int) {
	word := strings.TrimLeft(s, " -")
	for _, w := range alterWords {
		if len(word) >= len(w.text) && strings.EqualFold(word[:len(w.text)], w.text) {
			rest := word[len(w.text):]
			return w.alter, len(s) - len(strings.TrimLeft(rest, " "))
		}
	}
	return 0, 0
}

// bassWords are the words that set off a bass as a slash does.
var bassWords = [...]string{"over ", "on "}

// scanBassWord returns the bytes that a word for the slash takes; 0 for none. A
// note has to follow.
func scanBassWord(s string) int {
	for _, w := range bassWords {
		if len(s) > len(w) && strings.EqualFold(s[:len(w)], w) {
			if _, n := scanChordNote(s[len(w):]); n > 0 {
				return len(w)
			}
		}
	}
	return 0
}
