package session

import (
	"fmt"

	"organbook/internal/project"
)

// ToggleTriplet switches triplet lengths on or off, for the selected notes as
// well.
func (s *Session) ToggleTriplet() error { return s.ToggleTuplet(3) }

// ToggleTuplet makes the next note one of a tuplet of n, or plain again, and
// the selected notes as well. How many plain notes the tuplet takes the time of
// follows from the meter; a duplet needs a compound one.
func (s *Session) ToggleTuplet(n int) error {
	e := s.entry
	t := project.TupletIn(n, s.meterHere())
	switch {
	case e.Tuplet.N == n:
		e.Tuplet = project.Tuplet{}
	case t.IsZero():
		return s.fail(fmt.Errorf("a duplet stands in a compound meter such as 6/8; %s divides its beats in two anyway", s.meterHere()))
	default:
		e.Tuplet = t
	}
	return s.setEntry(e)
}

// TakesTuplet reports whether there can be a tuplet of n at the caret.
func (s *Session) TakesTuplet(n int) bool {
	return s.entry.Tuplet.N == n || !project.TupletIn(n, s.meterHere()).IsZero()
}

// meterHere is the meter at the caret.
func (s *Session) meterHere() project.Meter {
	return s.Chart().Bars[s.barAt(s.sel.Caret)].Meter
}

// fitTuplet lets the tuplet of the next note follow the meter at the caret.
func (s *Session) fitTuplet() {
	if t := s.entry.Tuplet; !t.IsZero() {
		s.entry.Tuplet = project.TupletIn(t.N, s.meterHere())
	}
}

// EvenNotes spreads the selected notes evenly over their time, as a tuplet.
func (s *Session) EvenNotes() error {
	notes := s.sel.Notes
	return s.doThen(project.EvenNotes{Starts: notes}, func() {
		i, _ := s.Chart().NoteStarting(notes[0])
		sel := Selection{Caret: notes[0], Anchor: notes[0]}
		for _, n := range s.Chart().Melody[i : i+len(notes)] {
			sel.Notes = append(sel.Notes, n.Start)
		}
		s.sel = sel
	})
}

// DivideNotes divides each target note into equal parts and selects them.
func (s *Session) DivideNotes(parts int) error {
	targets := s.targets()
	if len(targets) == 0 {
		return nil
	}
	return s.doThen(project.DivideNotes{Starts: targets, Parts: parts}, func() {
		sel := Selection{Caret: targets[0], Anchor: targets[0]}
		for _, t := range targets {
			i, _ := s.Chart().NoteStarting(t)
			for _, n := range s.Chart().Melody[i : i+parts] {
				sel.Notes = append(sel.Notes, n.Start)
			}
		}
		s.sel = sel
	})
}
