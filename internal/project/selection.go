package project

import "slices"

// SelectionKind says what a Selection holds.
type SelectionKind uint8

// The kinds of selection.
const (
	SelectNone SelectionKind = iota
	SelectNotes
	SelectBars
	SelectChord
)

// Selection is what a user has selected, told by positions so that it stays
// meaningful on every chart of a history. The zero value selects nothing.
type Selection struct {
	Kind SelectionKind
	// Starts are the positions of selected notes, ascending, or the one
	// position of a chord (which may be empty space to type into).
	Starts []Ticks
	// First and End are the range of selected bars, end excluded.
	First, End int
}

// NoteSelection selects the notes that start at the given positions.
func NoteSelection(starts ...Ticks) Selection {
	if len(starts) == 0 {
		return Selection{}
	}
	return Selection{Kind: SelectNotes, Starts: sortedStarts(starts)}
}

// BarSelection selects bars first to end, end excluded.
func BarSelection(first, end int) Selection {
	return Selection{Kind: SelectBars, First: first, End: end}
}

// ChordSelection selects the place of a chord symbol.
func ChordSelection(start Ticks) Selection {
	return Selection{Kind: SelectChord, Starts: []Ticks{start}}
}

// Equal reports whether two selections select the same.
func (s Selection) Equal(o Selection) bool {
	return s.Kind == o.Kind && s.First == o.First && s.End == o.End && slices.Equal(s.Starts, o.Starts)
}

// In returns the part of the selection that exists in c.
func (s Selection) In(c *Chart) Selection {
	switch s.Kind {
	case SelectNotes:
		kept := slices.DeleteFunc(slices.Clone(s.Starts), func(t Ticks) bool {
			_, ok := c.NoteStarting(t)
			return !ok
		})
		return NoteSelection(kept...)
	case SelectBars:
		first, end := max(0, s.First), min(s.End, len(c.Bars))
		if first < end {
			return BarSelection(first, end)
		}
	case SelectChord:
		if len(s.Starts) == 1 && s.Starts[0] >= 0 && s.Starts[0] < c.Length() {
			return s
		}
	}
	return Selection{}
}

// sortedStarts returns the positions ascending, each once, in a new slice.
func sortedStarts(starts []Ticks) []Ticks {
	sorted := slices.Clone(starts)
	slices.Sort(sorted)
	return slices.Compact(sorted)
}
