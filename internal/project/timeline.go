package project

import "slices"

// Edits of bars cut stretches of time out of a chart and let new ones in.
// Everything behind shifts along; what lies inside a removed stretch goes.

// insertTime shifts everything at or after position at to the right by length.
// A note held over the place is lengthened, so that removing the same stretch
// undoes it. The chart's bars are the caller's matter.
func (c *Chart) insertTime(at, length Ticks) {
	line := c.line()
	for i := range line {
		switch e := &line[i]; {
		case e.Start >= at:
			e.Start += length
		case e.End() > at:
			e.Duration += length
		}
	}
	changes := slices.Clone(c.Changes)
	for i := range changes {
		if changes[i].Start >= at {
			changes[i].Start += length
		}
	}
	c.setTime(line, changes)
}

// removeTime cuts the stretch from start to end out of the chart. Notes and
// symbols in it go; a note held into it is cut short by what it loses. The
// symbol in force at the end is kept for the music behind it.
func (c *Chart) removeTime(start, end Ticks) {
	var line []entry
	for _, e := range c.line() {
		if e.Start < start || e.Start >= end {
			e.Note = shortened(e.Note, start, end)
			line = append(line, e)
		}
	}
	c.setTime(line, changesWithout(c.Changes, start, end, c.Length()))
}

// shortened returns a note that starts outside a removed stretch as it stands
// afterwards.
func shortened(n Note, start, end Ticks) Note {
	if n.Start >= end {
		n.Start -= end - start
		return n
	}
	lost := min(n.End(), end) - start
	n.Duration -= max(0, lost)
	return n
}

// changesWithout returns the changes after removing a stretch from a chart of
// the given length.
func changesWithout(changes []Change, start, end, length Ticks) []Change {
	var kept []Change
	var inForce *Change
	for i, x := range changes {
		switch {
		case x.Start < start:
			kept = append(kept, x)
			continue
		case x.Start < end:
			inForce = &changes[i]
			continue
		}
		if inForce != nil && x.Start > end {
			kept = append(kept, Change{start, inForce.Chord})
		}
		inForce = nil
		kept = append(kept, Change{x.Start - (end - start), x.Chord})
	}
	if inForce != nil && end < length {
		kept = append(kept, Change{start, inForce.Chord})
	}
	return kept
}

// cutHeld ends a note that is held over a position there.
func (c *Chart) cutHeld(at Ticks) {
	i, ok := c.NoteAt(at)
	if !ok || c.Melody[i].Start == at {
		return
	}
	line := c.line()
	line[i].Duration = at - line[i].Start
	c.setLine(line)
}

func (c *Chart) setTime(line []entry, changes []Change) {
	c.setLine(line)
	if !slices.Equal(changes, c.Changes) {
		c.Changes = changes
	}
}
