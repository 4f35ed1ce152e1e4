package project

import (
	"errors"
	"slices"
)

// The melody is a monophonic line, so a note written where another sounds
// pushes it aside, the way one writes on paper with an eraser at hand:
//
//   - a note that began earlier is cut where the new one starts;
//   - a note whose start the new one covers goes, with its tail: what would
//     remain is an attack nobody wrote.
//
// Edits work on entries, a note together with its pins, the one in use and
// those on the shelf, and its fingers, so that they follow their note without
// book-keeping; a change of pitch drops them.

// entry is one melody note and its pins.
type entry struct {
	Note
	pin     *Pin
	shelved []ShelvedPin
	fingers []Fingering
}

// pitched returns the entry with another pitch; its pin stays only when the
// note still sounds the same and is merely spelled differently.
func (e entry) pitched(n Note) entry {
	if n.Pitch.Key() != e.Pitch.Key() {
		e.pin, e.shelved, e.fingers = nil, nil, nil
	}
	e.Pitch = n.Pitch
	return e
}

// line returns the melody as entries.
func (c *Chart) line() []entry {
	line := make([]entry, len(c.Melody))
	p, s, f := 0, 0, 0
	for i, n := range c.Melody {
		line[i].Note = n
		for p < len(c.Pins) && c.Pins[p].Start < n.Start {
			p++
		}
		if p < len(c.Pins) && c.Pins[p].Start == n.Start {
			line[i].pin = &c.Pins[p]
		}
		for s < len(c.Shelved) && c.Shelved[s].Start < n.Start {
			s++
		}
		for s < len(c.Shelved) && c.Shelved[s].Start == n.Start {
			line[i].shelved = append(line[i].shelved, c.Shelved[s])
			s++
		}
		for f < len(c.Fingerings) && c.Fingerings[f].Start < n.Start {
			f++
		}
		for f < len(c.Fingerings) && c.Fingerings[f].Start == n.Start {
			line[i].fingers = append(line[i].fingers, c.Fingerings[f])
			f++
		}
	}
	return line
}

// withLine returns the chart with another melody and the pins it carries.
func (c *Chart) withLine(line []entry) (*Chart, error) {
	return c.with(func(d *Chart) { d.setLine(line) })
}

// setLine gives a chart that is still being made its melody and pins, keeping
// slices that come out the same.
func (c *Chart) setLine(line []entry) {
	melody := make([]Note, len(line))
	var pins []Pin
	var shelved []ShelvedPin
	var fingers []Fingering
	for i, e := range line {
		melody[i] = e.Note
		if e.pin != nil {
			pin := *e.pin
			pin.Start = e.Start
			pins = append(pins, pin)
		}
		for _, p := range e.shelved {
			p.Start = e.Start
			shelved = append(shelved, p)
		}
		for _, f := range e.fingers {
			f.Start = e.Start
			fingers = append(fingers, f)
		}
	}
	if !slices.Equal(fingers, c.Fingerings) {
		c.Fingerings = fingers
	}
	if !slices.Equal(melody, c.Melody) {
		c.Melody = melody
	}
	if !slices.EqualFunc(pins, c.Pins, Pin.Equal) {
		c.Pins = pins
	}
	if !slices.EqualFunc(shelved, c.Shelved, ShelvedPin.Equal) {
		c.Shelved = shelved
	}
}

// place returns the line with entries added over what is there. The added
// entries ascend and do not overlap one another.
func place(line, added []entry) []entry {
	merged := make([]entry, 0, len(line)+len(added))
	for _, e := range line {
		if rest, ok := clearedBy(e, added); ok {
			merged = append(merged, rest)
		}
	}
	merged = append(merged, added...)
	slices.SortFunc(merged, func(a, b entry) int { return compare(a.Start, b.Start) })
	return merged
}

// clearedBy returns what remains of e under the added entries; ok is false
// when it goes.
func clearedBy(e entry, added []entry) (rest entry, ok bool) {
	// The first added note that ends after e starts is the only one that can
	// cover e's start, and otherwise the first that can cut e short.
	i, _ := slices.BinarySearchFunc(added, e.Start+1, func(a entry, t Ticks) int { return compare(a.End(), t) })
	if i == len(added) {
		return e, true
	}
	if added[i].Start <= e.Start {
		return e, false
	}
	e.Duration = min(e.Duration, added[i].Start-e.Start)
	return e, true
}

// errNothing answers an edit that was given no notes.
var errNothing = errors.New("no note is selected")

// pull takes the notes that start at the given positions out of the line. The
// error names the first position without a note.
func (c *Chart) pull(starts []Ticks) (taken, rest []entry, err error) {
	starts = sortedStarts(starts)
	if len(starts) == 0 {
		return nil, nil, errNothing
	}
	for _, t := range starts {
		if _, ok := c.NoteStarting(t); !ok {
			return nil, nil, Problem{c.PositionText(t), "no note starts here"}
		}
	}
	for _, e := range c.line() {
		if _, ok := slices.BinarySearch(starts, e.Start); ok {
			taken = append(taken, e)
		} else {
			rest = append(rest, e)
		}
	}
	return taken, rest, nil
}

// entries wraps notes without pins.
func entries(notes []Note) []entry {
	es := make([]entry, len(notes))
	for i, n := range notes {
		es[i].Note = n
	}
	return es
}
