package project

import "organbook/internal/theory"

// Record replaces what the melody has in a stretch of time by what was played
// there: notes that start in it go, one that sounds into it is cut, and the
// new notes are written.
//
// One that adds leaves what is there and cuts or removes only what its notes
// sound over.
type Record struct {
	// From and To are the stretch, To excluded.
	From, To Ticks
	// Notes ascend, start in the stretch and may sound beyond it.
	Notes []Note
	// Add leaves the notes that the new ones do not touch.
	Add bool
}

// Name returns "record 12 notes".
func (e Record) Name() string { return "record " + counted(len(e.Notes), "note") }

// Apply fails when a note would lie outside the stretch or the bars, or the
// notes overlap one another.
func (e Record) Apply(c *Chart) (*Chart, error) {
	for _, n := range e.Notes {
		if n.Start < e.From || n.Start >= e.To {
			return nil, Problem{c.PositionText(n.Start), "the note lies outside what was recorded"}
		}
	}
	if err := c.fits(e.Notes); err != nil {
		return nil, err
	}
	var rest []entry
	for _, x := range c.line() {
		switch {
		case e.Add:
		case x.Start >= e.From && x.Start < e.To:
			continue
		case x.Start < e.From:
			x.Duration = min(x.Duration, e.From-x.Start)
		}
		rest = append(rest, x)
	}
	return c.withLine(place(rest, entries(e.Notes)))
}

// Select selects what was recorded.
func (e Record) Select(_, _ *Chart, _ Selection) Selection {
	return NoteSelection(startsOf(e.Notes)...)
}

// Spell names a key for the place it is written at: as the chord in force
// spells it, else as the key signature does; the zero Pitch for a key no note
// can have.
func (c *Chart) Spell(t Ticks, key int) theory.Pitch {
	if key < theory.MinKey || key > theory.MaxKey {
		return theory.Pitch{}
	}
	if chord, ok := c.ChordAt(t); ok {
		if name, ok := chord.SpellOf(key % 12); ok {
			return theory.PitchAt(name, key)
		}
	}
	return theory.PitchAt(c.KeyAt(t).Spell(key%12), key)
}
