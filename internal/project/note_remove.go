package project

// RemoveNotes erases the notes that start at the given positions, with their
// pins; rests remain.
type RemoveNotes struct{ Starts []Ticks }

// Name returns "remove 2 notes".
func (e RemoveNotes) Name() string { return "remove " + counted(len(e.Starts), "note") }

// Apply fails when no note starts at one of the positions.
func (e RemoveNotes) Apply(c *Chart) (*Chart, error) {
	_, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	return c.withLine(rest)
}
