package session

import (
	"math"

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

// changeEffects changes nothing when the effects stay as they are; a registration
// with other effects is no longer the one of its name.
func (s *Session) changeEffects(change func(*project.Effects)) error {
	r := s.Heard().Registration
	change(&r.Effects)
	if r == s.Heard().Registration {
		return nil
	}
	return s.SetRegistration(s.renamed(r))
}

// ChangeAccent changes parts of the heard passage's struck accent.
func (s *Session) ChangeAccent(change func(*project.Accent)) error {
	a := s.Heard().Registration.Accent
	change(&a)
	return s.SetAccent(a)
}

// NextAccent goes through none, octave and twelfth, round and round.
func (s *Session) NextAccent() error {
	return s.ChangeAccent(func(a *project.Accent) {
		a.Pitch = project.AccentPitches[(int(a.Pitch)+1)%len(project.AccentPitches)]
	})
}

// NextVibrato goes to a division's next vibrato, round and round.
func (s *Session) NextVibrato(d arrange.Division) error {
	now := int(s.Heard().Registration.Vibrato[d])
	return s.SetVibrato(d, project.Vibratos[(now+1)%len(project.Vibratos)])
}

// ChangeDrive drives the sound further into saturation, or less far.
func (s *Session) ChangeDrive(by float64) error {
	return s.SetDrive(hundredths(s.Heard().Registration.Drive + by))
}

// ChangeRoom raises or lowers the level of the room.
func (s *Session) ChangeRoom(by float64) error {
	return s.SetRoom(hundredths(s.Heard().Registration.Room + by))
}

// hundredths rounds a setting, so that steps up and down meet again.
func hundredths(v float64) float64 { return math.Round(v*100) / 100 }
