package projecttest

import "organbook/internal/project"

// Repeated returns a chart played over and over, as written bars, until it has
// exactly so many: the long chart that the promises of speed are measured on.
// The chart must be shorter than that and in one metre.
func Repeated(c *project.Chart, bars int) (*project.Chart, error) {
	first := c
	var err error
	for len(c.Bars) < bars {
		at := c.Length()
		count := min(len(first.Bars), bars-len(c.Bars))
		if c, err = (project.InsertBars{At: len(c.Bars), Count: count}).Apply(c); err != nil {
			return nil, err
		}
		if c, err = (project.Paste{Notes: fitting(first.Melody, c.Length()-at), At: at}).Apply(c); err != nil {
			return nil, err
		}
		for _, x := range first.Changes {
			if at+x.Start >= c.Length() {
				break
			}
			if c, err = (project.SetChord{Start: at + x.Start, Chord: x.Chord}).Apply(c); err != nil {
				return nil, err
			}
		}
	}
	return c, nil
}

// fitting returns the notes that end within a room.
func fitting(notes []project.Note, room project.Ticks) []project.Note {
	n := 0
	for n < len(notes) && notes[n].End() <= room {
		n++
	}
	return notes[:n]
}
