package command

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// A command is found by its title, its menu and its further words, in English and
// in the language of the window. What is found is sorted by how a query fits: by
// the kind of the fit of the query's worst word, then by how far into the title or
// the further words its words stand, and then by the order of the menus. So "loop"
// finds what begins with that word before what mentions it, and "level" finds the
// command that is known by it before those that have it among other words.
const (
	fitTitle      = iota // the query is the title
	fitKnown             // its words are those that the command is known by
	fitTail              // it is the title behind the colon
	fitWord              // a word is one of the title
	fitAlso              // a word is one of the further words
	fitKnownStart        // a word starts one that the command is known by
	fitStart             // a word starts one of the title
	fitAny               // a word starts a further word or one of the menu
	fitInside            // a word is somewhere inside
	fitNone
)

// fit tells how well a query fits a command: less is better.
type fit struct{ kind, place int }

func (f fit) compare(g fit) int {
	return cmp.Or(cmp.Compare(f.kind, g.kind), cmp.Compare(f.place, g.place))
}

// SearchKey is the text whose translation has the further words of a command in
// another language, in the same form.
func SearchKey(also string) string { return "search: " + also }

// Search returns the commands that fit every word of a query, the most likely
// first, and all of them when there is none. With say, which translates texts, they
// are found by the words of its language, too.
func (t *Table) Search(query string, say func(string) string) []*Command {
	type hit struct {
		*Command
		fit
	}
	query = strings.ToLower(strings.TrimSpace(query))
	var hits []hit
	for _, c := range t.list {
		f := englishText(c).fit(query)
		if say != nil {
			if other := textIn(c, say).fit(query); other.compare(f) < 0 {
				f = other
			}
		}
		if f.kind < fitNone {
			hits = append(hits, hit{c, f})
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return a.compare(b.fit) })
	found := make([]*Command, len(hits))
	for i, h := range hits {
		found[i] = h.Command
	}
	return found
}

// searched is what a command is found by in one language, in lower case.
type searched struct {
	title, whole             string
	named, known, also, menu []string
}

func englishText(c *Command) searched { return newSearched(c.Title, c.Menu, c.Also, c.ID) }

func textIn(c *Command, say func(string) string) searched {
	also := ""
	if c.Also != "" {
		also = say(SearchKey(c.Also))
	}
	return newSearched(say(c.Title), say(c.Menu), also, "")
}

func newSearched(title, menu, also, id string) searched {
	title, menu, also = strings.ToLower(title), strings.ToLower(menu), strings.ToLower(also)
	known, further, parted := strings.Cut(also, ";")
	if !parted {
		known, further = "", also
	}
	return searched{
		title: strings.TrimSuffix(title, "…"), whole: title + " " + menu + " " + also + " " + id,
		named: wordsIn(title), known: wordsIn(known), also: wordsIn(further), menu: wordsIn(menu),
	}
}

// wordsIn returns the words of a text: what stands between signs and blanks.
func wordsIn(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsNumber(r) && r != '♭' && r != '♯' })
}

func (s searched) fit(query string) fit {
	words := wordsIn(query)
	if s.title == query || query == "" {
		return fit{kind: fitTitle}
	}
	if len(words) == 0 { // signs alone
		words = []string{query}
	}
	if place, ok := places(words, s.known); ok {
		return fit{fitKnown, place}
	}
	if strings.HasSuffix(s.title, ": "+query) {
		return fit{kind: fitTail}
	}
	var all fit
	for _, w := range words {
		f := s.fitWord(w)
		all.kind, all.place = max(all.kind, f.kind), all.place+f.place
	}
	return all
}

// places adds up where the words stand in a list; ok reports that all do.
func places(words, list []string) (sum int, ok bool) {
	for _, w := range words {
		i := slices.Index(list, w)
		if i < 0 {
			return 0, false
		}
		sum += i
	}
	return sum, true
}

// fitWord tells how well one word of a query fits.
func (s searched) fitWord(word string) fit {
	whole := func(w string) bool { return w == word }
	starts := func(w string) bool { return strings.HasPrefix(w, word) }
	for _, try := range []struct {
		kind int
		in   []string
		fits func(string) bool
	}{
		{fitWord, s.named, whole}, {fitAlso, s.known, whole}, {fitAlso, s.also, whole},
		{fitKnownStart, s.known, starts}, {fitStart, s.named, starts}, {fitAny, s.also, starts}, {fitAny, s.menu, starts},
	} {
		if i := slices.IndexFunc(try.in, try.fits); i >= 0 {
			return fit{try.kind, i}
		}
	}
	if strings.Contains(s.whole, word) {
		return fit{kind: fitInside}
	}
	return fit{kind: fitNone}
}
