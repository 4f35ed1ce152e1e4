package session

import (
	"slices"
	"strings"

	"organbook/internal/theory"
)

// qualities are what is offered after a root, the commonest first.
var qualities = []string{"", "m7", "7", "maj7", "6", "m6", "m7b5", "7b9", "9", "13", "m", "dim7", "6/9", "m9", "maj9",
	"7sus4", "7#11", "7#5", "7alt", "m(maj7)", "m11", "9sus4", "13b9", "7b5", "7#9", "maj7#11", "aug", "dim", "sus4", "add9"}

// slashed are the degrees that a bass under a chord is offered from, by their order
// among the chord's tones: the third, the fifth, the seventh.
var slashed = []int{1, 2, 3}

// Completions returns how a symbol that is being typed may go on, at most so many:
// as the chart has symbols, the most used first, then as they are commonly written.
// After a slash it is the tones of the chord that may lie in the bass. Blank text has
// none.
func (s *Session) Completions(typed string, most int) []Reading {
	whole := ReadChord(typed).Error == ""
	typed = plainSymbol(typed)
	if typed == "" {
		return nil
	}
	var list []Reading
	offer := func(c theory.Chord) {
		symbol := c.String()
		if !strings.HasPrefix(symbol, typed) || whole && symbol == typed || len(list) == most {
			return
		}
		if !slices.ContainsFunc(list, func(r Reading) bool { return r.Chord.String() == symbol }) {
			list = append(list, Reading{Chord: c, Means: meaning(c)})
		}
	}
	for _, c := range s.symbols() {
		offer(c)
	}
	root := Root(typed)
	if above, _, ok := strings.Cut(typed, "/"); ok {
		c, err := theory.ParseChord(above)
		for _, i := range slashed {
			if tones := c.Tones(); err == nil && i < len(tones) {
				offerText(above+"/"+tones[i].String(), offer)
			}
		}
	}
	for _, q := range qualities {
		offerText(root+q, offer)
	}
	return list
}

// offerText offers a symbol if it can be read.
func offerText(symbol string, offer func(theory.Chord)) {
	if c, err := theory.ParseChord(symbol); err == nil {
		offer(c)
	}
}

// symbols are the chart's chords, each once, the most used first.
func (s *Session) symbols() []theory.Chord {
	var list []theory.Chord
	uses := map[string]int{}
	for _, c := range s.Chart().Changes {
		symbol := c.Chord.String()
		if uses[symbol]++; uses[symbol] == 1 {
			list = append(list, c.Chord)
		}
	}
	slices.SortStableFunc(list, func(a, b theory.Chord) int { return uses[b.String()] - uses[a.String()] })
	return list
}

// plainSymbol writes what is typed as symbols are kept: plain signs, the root in
// upper case.
func plainSymbol(typed string) string {
	typed = strings.NewReplacer("♭", "b", "♯", "#").Replace(strings.TrimSpace(typed))
	if rootLength(typed) == 0 {
		return ""
	}
	return strings.ToUpper(typed[:1]) + typed[1:]
}

// Root returns the root that a symbol begins with, "" where it has none.
func Root(symbol string) string {
	symbol = plainSymbol(symbol)
	return symbol[:rootLength(symbol)]
}

// rootLength is how many characters of a symbol are its root: 0 where it has none.
func rootLength(symbol string) int {
	if symbol == "" || strings.IndexByte("ABCDEFGabcdefg", symbol[0]) < 0 {
		return 0
	}
	return 1 + len(symbol[1:]) - len(strings.TrimLeft(symbol[1:], "b#"))
}
