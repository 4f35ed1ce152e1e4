package project

// NudgeNotes shifts notes in time among the others, which keep their starts. No
// note is lost or passed: one that sounds into the start of the next is cut
// there, and where too little of a note would remain nothing moves. Pins follow.
type NudgeNotes struct {
	// Starts are the positions of the notes.
	Starts []Ticks
	// By is the shift in time, negative to the left.
	By Ticks
}

// leastNudged is the least length to which a nudge cuts a note; a note that is
// shorter is not cut.
const leastNudged = Whole / 32

// Name returns "move 2 notes".
func (e NudgeNotes) Name() string { return MoveNotes{Starts: e.Starts}.Name() }

// Apply fails when no note starts at one of the positions, one would leave the
// bars, or another note is in the way.
func (e NudgeNotes) Apply(c *Chart) (*Chart, error) {
	taken, _, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	if e.By == 0 {
		return c, nil
	}
	for i := range taken {
		taken[i].Start += e.By
	}
	line := c.line()
	moved := make([]bool, len(line))
	for i, next := 0, 0; i < len(line) && next < len(taken); i++ {
		if moved[i] = line[i].Start == taken[next].Start-e.By; moved[i] {
			line[i] = taken[next]
			next++
		}
	}
	for i := range line[:len(line)-1] {
		n, room := &line[i], line[i+1].Start-line[i].Start
		if room < min(n.Duration, leastNudged) {
			at := i // the one of the two that stays
			if moved[i] {
				at = i + 1
			}
			return nil, Problem{c.PositionText(line[at].Start), line[at].Pitch.Pretty() + " is in the way; select it, too, to move both"}
		}
		n.Duration = min(n.Duration, room)
	}
	if err := c.fits(notesOf(line)); err != nil {
		return nil, err
	}
	return c.withLine(line)
}

// Select keeps the moved notes selected.
func (e NudgeNotes) Select(before, after *Chart, s Selection) Selection {
	return MoveNotes{Starts: e.Starts, By: e.By}.Select(before, after, s)
}
