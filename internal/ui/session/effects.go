package session

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
)

// SetAccent changes the struck accent of the heard passage.
func (s *Session) SetAccent(a project.Accent) error {
	return s.changeEffects(func(e *project.Effects) { e.Accent = a })
}

// SetVibrato changes the vibrato of a division in the heard passage.
func (s *Session) SetVibrato(d arrange.Division, v project.Vibrato) error {
	return s.changeEffects(func(e *project.Effects) { e.Vibrato[d] = v })
}

// SetDrive changes how far the heard passage is driven, held to 0 to 1.
func (s *Session) SetDrive(v float64) error {
	return s.changeEffects(func(e *project.Effects) { e.Drive = min(max(v, 0), 1) })
}

// SetRoom changes the level of the room in the heard passage, held to 0 to 1.
func (s *Session) SetRoom(v float64) error {
	return s.changeEffects(func(e *project.Effects) { e.Room = min(max(v, 0), 1) })
}

// changeEffects changes nothing when the effects stay as they are.
func (s *Session) changeEffects(change func(*project.Effects)) error {
	r := s.Heard().Registration
	change(&r.Effects)
	if r == s.Heard().Registration {
		return nil
	}
	return s.SetRegistration(r)
}
