package project

import (
	"errors"
	"slices"
)

// AddNote writes a note over whatever sounds there; see the rules in line.go.
type AddNote struct{ Note Note }

// Name returns "add note".
func (AddNote) Name() string { return "add note" }

// Apply fails when the note lies outside the bars or has no pitch.
func (e AddNote) Apply(c *Chart) (*Chart, error) { return c.write([]Note{e.Note}) }

// Select selects the new note.
func (e AddNote) Select(_, _ *Chart, _ Selection) Selection { return NoteSelection(e.Note.Start) }

// Paste writes notes over whatever sounds there, moved together so that
// position From lands on At. From is where the copied stretch began, which
// may be a rest before its first note.
type Paste struct {
	Notes    []Note
	From, At Ticks
}

// Name returns "paste 3 notes".
func (e Paste) Name() string { return "paste " + counted(len(e.Notes), "note") }

// Apply fails when a note would lie outside the bars or the notes overlap one
// another.
func (e Paste) Apply(c *Chart) (*Chart, error) {
	if len(e.Notes) == 0 {
		return nil, errors.New("there is nothing to paste; copy some notes first")
	}
	return c.write(e.moved())
}

// Select selects what was pasted.
func (e Paste) Select(_, _ *Chart, _ Selection) Selection {
	return NoteSelection(startsOf(e.moved())...)
}

func (e Paste) moved() []Note {
	notes := slices.Clone(e.Notes)
	for i := range notes {
		notes[i].Start += e.At - e.From
	}
	slices.SortFunc(notes, func(a, b Note) int { return compare(a.Start, b.Start) })
	return notes
}

// write places ascending notes on the melody.
func (c *Chart) write(notes []Note) (*Chart, error) {
	if err := c.fits(notes); err != nil {
		return nil, err
	}
	return c.withLine(place(c.line(), entries(notes)))
}

// fits reports in a sentence why ascending notes cannot be placed: one lies
// outside the bars, has no length, or runs into the next.
func (c *Chart) fits(notes []Note) error {
	length, before := c.Length(), Ticks(0)
	for _, n := range notes {
		switch {
		case n.Start < 0:
			return errors.New("the notes would start before the first bar")
		case n.Start >= length || n.Duration > length-n.Start:
			return errors.New("the notes would reach past the last bar; insert bars there first")
		case n.Duration <= 0:
			return Problem{c.PositionText(n.Start), "a note needs a length"}
		case n.Start < before:
			return Problem{c.PositionText(n.Start), "two notes would sound at once; the melody is one line"}
		}
		before = n.End()
	}
	return nil
}

func startsOf(notes []Note) []Ticks {
	starts := make([]Ticks, len(notes))
	for i, n := range notes {
		starts[i] = n.Start
	}
	return starts
}
