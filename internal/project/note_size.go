package project

import "slices"

// ResizeNotes changes the length of notes; starts stay. A note that grows
// pushes aside what it comes to cover, but stops before the next one that is
// resized with it.
type ResizeNotes struct {
	Starts []Ticks
	// To, above zero, is the new length of each; otherwise each grows by By.
	To, By Ticks
	// Least is how short By may make a note; one that is shorter stays.
	Least Ticks
	// Spare lets no note cover another one: it grows up to the next start.
	Spare bool
}

// Name returns "resize 2 notes".
func (e ResizeNotes) Name() string { return "resize " + counted(len(e.Starts), "note") }

// Apply fails when a note would vanish or reach past the last bar, and with Spare
// when each that would grow ends where the next starts.
func (e ResizeNotes) Apply(c *Chart) (*Chart, error) {
	taken, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	if e.Spare {
		if err := e.hemmed(c, taken); err != nil {
			return nil, err
		}
	}
	for i := range taken {
		taken[i].Duration = e.length(taken[i].Duration)
		if next, ok := c.noteAfter(taken[i].Start); ok && e.Spare {
			taken[i].Duration = min(taken[i].Duration, next.Start-taken[i].Start)
		}
		if i+1 < len(taken) {
			taken[i].Duration = min(taken[i].Duration, taken[i+1].Start-taken[i].Start)
		}
	}
	if err := c.fits(notesOf(taken)); err != nil {
		return nil, err
	}
	return c.withLine(place(rest, taken))
}

// hemmed says which note is in the way of the first when none of the taken ones can
// grow.
func (e ResizeNotes) hemmed(c *Chart, taken []entry) error {
	first := Note{}
	for _, n := range taken {
		next, ok := c.noteAfter(n.Start)
		if !ok || next.Start > n.End() || e.length(n.Duration) <= n.Duration {
			return nil
		}
		if first.Duration == 0 {
			first = next
		}
	}
	return Problem{c.PositionText(first.Start), first.Pitch.Pretty() + " is in the way; move it later first"}
}

// noteAfter returns the note after the one that starts at a position.
func (c *Chart) noteAfter(start Ticks) (Note, bool) {
	i, _ := c.NoteStarting(start)
	if i+1 >= len(c.Melody) {
		return Note{}, false
	}
	return c.Melody[i+1], true
}

func (e ResizeNotes) length(old Ticks) Ticks {
	if e.To > 0 {
		return e.To
	}
	return max(old+e.By, min(old, e.Least))
}

// SplitNote divides the note that sounds at a position into two of the same
// pitch; the first keeps the pin.
type SplitNote struct{ At Ticks }

// Name returns "split note".
func (SplitNote) Name() string { return "split note" }

// Apply fails when no note sounds there or one starts just there.
func (e SplitNote) Apply(c *Chart) (*Chart, error) {
	i, ok := c.NoteAt(e.At)
	if !ok || c.Melody[i].Start == e.At {
		return nil, Problem{c.PositionText(e.At), "there is no note to split here"}
	}
	line := c.line()
	second := entry{Note: line[i].Note}
	second.Start, second.Duration = e.At, line[i].End()-e.At
	line[i].Duration = e.At - line[i].Start
	return c.withLine(slices.Insert(line, i+1, second))
}

// Select selects both halves.
func (e SplitNote) Select(_, after *Chart, _ Selection) Selection {
	i, _ := after.NoteStarting(e.At)
	return NoteSelection(after.Melody[max(0, i-1)].Start, e.At)
}

// JoinNotes makes one note of several neighbours: the first one's pitch, from
// its start to the end of the last, rests between them included. The pins of
// the others go.
type JoinNotes struct{ Starts []Ticks }

// Name returns "join 3 notes".
func (e JoinNotes) Name() string { return "join " + counted(len(e.Starts), "note") }

// Apply fails with fewer than two notes or when another lies between them.
func (e JoinNotes) Apply(c *Chart) (*Chart, error) {
	taken, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	first, last := taken[0], taken[len(taken)-1]
	if len(taken) < 2 {
		return nil, Problem{c.PositionText(first.Start), "joining needs two notes or more"}
	}
	i, _ := c.NoteStarting(first.Start)
	j, _ := c.NoteStarting(last.Start)
	if j-i+1 != len(taken) {
		return nil, Problem{c.PositionText(first.Start), "only neighbouring notes can be joined"}
	}
	first.Duration = last.End() - first.Start
	return c.withLine(slices.Insert(rest, i, first))
}

// Select selects the joined note.
func (e JoinNotes) Select(_, _ *Chart, _ Selection) Selection {
	return NoteSelection(slices.Min(e.Starts))
}
