package project

import (
	"fmt"

	"organbook/internal/theory"
)

// SetPitch gives the note that starts at Start another pitch.
type SetPitch struct {
	Start Ticks
	Pitch theory.Pitch
}

// Name returns "change pitch".
func (SetPitch) Name() string { return "change pitch" }

// Apply fails when no note starts there or the pitch is not valid.
func (e SetPitch) Apply(c *Chart) (*Chart, error) {
	i, ok := c.NoteStarting(e.Start)
	if !ok {
		return nil, Problem{c.PositionText(e.Start), "no note starts here"}
	}
	if !e.Pitch.IsValid() {
		return nil, Problem{c.PositionText(e.Start), "a note needs a pitch"}
	}
	line := c.line()
	line[i] = line[i].pitched(Note{Pitch: e.Pitch})
	return c.withLine(line)
}

// RespellNote writes the note that starts at Start with another name for the
// same key, G♯ for A♭. Its pin stays.
type RespellNote struct {
	Start Ticks
	To    theory.Name
}

// Name returns "respell note".
func (RespellNote) Name() string { return "respell note" }

// Apply fails when no note starts there or the name is another key's.
func (e RespellNote) Apply(c *Chart) (*Chart, error) {
	i, ok := c.NoteStarting(e.Start)
	if !ok {
		return nil, Problem{c.PositionText(e.Start), "no note starts here"}
	}
	pitch := theory.PitchAt(e.To, c.Melody[i].Pitch.Key())
	if !pitch.IsValid() {
		return nil, Problem{c.PositionText(e.Start), fmt.Sprintf("%s is not another name for %s", e.To, c.Melody[i].Pitch)}
	}
	return SetPitch{e.Start, pitch}.Apply(c)
}
