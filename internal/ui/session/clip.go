package session

import (
	"organbook/internal/project"
)

// clip is what was copied: notes and the stretch they were copied from. from
// is where the first of them starts, so a paste begins with a note.
type clip struct {
	notes  []project.Note
	from   project.Ticks
	length project.Ticks
}

// CanPaste reports whether something was copied.
func (s *Session) CanPaste() bool { return len(s.clip.notes) > 0 }

// Copy remembers the selected notes.
func (s *Session) Copy() { s.clip = s.selectedClip() }

func (s *Session) selectedClip() clip {
	var c clip
	for _, i := range s.SelectedIndexes() {
		c.notes = append(c.notes, s.Chart().Melody[i])
	}
	if n := len(c.notes); n > 0 {
		c.from = c.notes[0].Start
		c.length = c.notes[n-1].End() - c.from
	}
	return c
}

// Cut copies the selected notes and removes them.
func (s *Session) Cut() error {
	s.Copy()
	caret := s.sel.Notes[0]
	return s.doThen(project.RemoveNotes{Starts: s.sel.Notes}, func() { s.sel = Selection{Caret: caret, Anchor: caret} })
}

// Paste writes the copied notes at the caret, adding bars at the end when they
// would not fit, and selects them.
func (s *Session) Paste() error { return s.pasteAt(s.clip, s.sel.Caret) }

// Duplicate writes the selected notes again right after themselves.
func (s *Session) Duplicate() error {
	c := s.selectedClip()
	return s.pasteAt(c, c.from+c.length)
}

func (s *Session) pasteAt(c clip, t project.Ticks) error {
	edits := append(s.roomFor(t+c.length), project.Paste{Notes: c.notes, From: c.from, At: t})
	return s.doThen(named(edits, "paste"), func() {
		sel := Selection{Caret: t + c.length, Anchor: t}
		for _, n := range c.notes {
			sel.Notes = append(sel.Notes, n.Start-c.from+t)
		}
		s.sel = sel
	})
}
