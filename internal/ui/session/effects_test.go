package session

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// TestEffects changes each effect, undoes it, and holds what is out of range.
func TestEffects(t *testing.T) {
	loud := project.Accent{Pitch: project.AccentOctave, Loud: true}
	tests := []struct {
		name   string
		change func(*Session) error
		want   func(*project.Effects)
	}{
		{"accent", func(s *Session) error { return s.SetAccent(loud) }, func(e *project.Effects) { e.Accent = loud }},
		{"vibrato", func(s *Session) error { return s.SetVibrato(arrange.Lower, project.ChorusDeep) },
			func(e *project.Effects) { e.Vibrato[1] = project.ChorusDeep }},
		{"drive", func(s *Session) error { return s.SetDrive(7) }, func(e *project.Effects) { e.Drive = 1 }},
		{"room", func(s *Session) error { return s.SetRoom(-1) }, func(e *project.Effects) { e.Room = 0 }},
	}
	for _, test := range tests {
		s, _ := fresh(t, "C major")
		before := s.Chart()
		want := s.Heard().Registration.Effects
		test.want(&want)
		if err := test.change(s); err != nil {
			t.Fatal(err)
		}
		if got := s.Heard().Registration.Effects; got != want {
			t.Errorf("%s: %+v, want %+v", test.name, got, want)
		}
		s.Undo()
		if !s.Chart().Equal(before) {
			t.Errorf("%s is not undone", test.name)
		}
	}
}
