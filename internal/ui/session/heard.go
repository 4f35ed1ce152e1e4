package session

import "organbook/internal/project"

// HeardPassage returns the index of the passage that sounds while the
// transport plays, and of the caret's otherwise: what the console shows, and
// what its controls change.
func (s *Session) HeardPassage() int {
	if !s.transport.playing {
		return s.CurrentPassage()
	}
	c := s.Chart()
	return c.PassageAt(c.BarAt(min(s.transport.resume, c.Length()-1)))
}

// Heard returns the passage that sounds, or the caret's.
func (s *Session) Heard() project.Passage { return s.Chart().Passages[s.HeardPassage()] }

// SetRegistrationOf changes the registration of passage i.
func (s *Session) SetRegistrationOf(i int, r project.Registration) error {
	return s.Do(project.SetRegistration{Passage: i, Registration: r})
}
