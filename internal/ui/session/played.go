package session

import (
	"fmt"
	"slices"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// What is played on keys (outside, drawn, or the letters of the computer's
// keyboard) lights up, is written note by note in step entry, or is recorded.

// PlayedKey is a key that is held.
type PlayedKey struct {
	Division arrange.Division
	Key      int
}

// chordTime is how closely keys of a chord are struck: within it, step entry
// keeps the highest.
const chordTime = 60 * time.Millisecond

// played is what a session knows of the keys.
type played struct {
	held  []PlayedKey
	steps bool
	last  time.Time     // when step entry wrote last
	wrote project.Ticks // what it wrote then
}

// KeyPlayed takes note of a key that goes down or up on a division, at a time.
// It sounds nothing.
func (s *Session) KeyPlayed(d arrange.Division, key int, down bool, at time.Time) error {
	k := PlayedKey{d, key}
	i := slices.Index(s.played.held, k)
	switch {
	case down && i < 0:
		s.played.held = append(slices.Clone(s.played.held), k)
	case !down && i >= 0:
		s.played.held = slices.Delete(slices.Clone(s.played.held), i, i+1)
	default:
		return nil
	}
	s.notify(KeysChanged)
	if s.record != nil {
		s.record.key(k, down, s.secondsAt(at))
		return nil
	}
	if down && s.played.steps && d != arrange.Pedal {
		return s.stepKey(key, at)
	}
	return nil
}

// secondsAt returns the second of the performance that was heard at a time.
func (s *Session) secondsAt(at time.Time) float64 {
	now, _ := s.sound.Position()
	return now - s.Now().Sub(at).Seconds()
}

// Held returns the keys that are held now.
func (s *Session) Held() []PlayedKey { return s.played.held }

// ReleaseHeld forgets the keys that are held, as after a panic.
func (s *Session) ReleaseHeld() {
	if len(s.played.held) > 0 {
		s.played.held = nil
		s.notify(KeysChanged)
	}
}

// Silence stops playing and releases every key.
func (s *Session) Silence() {
	s.Stop()
	s.sound.Stop()
	s.ReleaseHeld()
	s.Say("Everything is released.")
}

// StepEntry reports whether keys that are played are written at the caret.
func (s *Session) StepEntry() bool { return s.played.steps }

// ToggleStepEntry lets keys that are played write notes at the caret, or play
// only.
func (s *Session) ToggleStepEntry() {
	s.played.steps = !s.played.steps
	s.notify(EntryChanged)
	if s.played.steps {
		s.Say("Keys write " + s.entry.String() + " notes at the caret; Space leaves a rest.")
	} else {
		s.Say("Keys play and write nothing.")
	}
}

// stepKey writes a key at the caret and moves the caret on. Of a chord the
// highest key stays.
func (s *Session) stepKey(key int, at time.Time) error {
	if i, ok := s.Chart().NoteStarting(s.played.wrote); ok && !s.played.last.IsZero() && at.Sub(s.played.last) < chordTime {
		if key <= s.Chart().Melody[i].Pitch.Key() {
			return nil
		}
		caret := s.sel
		return s.doThen(project.SetPitch{Start: s.played.wrote, Pitch: s.SpellAt(s.played.wrote, key)}, func() { s.sel = caret })
	}
	s.fitTuplet()
	t := s.sel.Caret
	p := s.SpellAt(min(t, s.Chart().Length()-1), key)
	if !p.IsValid() {
		return s.fail(fmt.Errorf("key %d is no note of the melody", key))
	}
	if err := s.place(project.Note{Start: t, Duration: s.entry.Length(), Pitch: p}); err != nil {
		return err
	}
	s.played.last, s.played.wrote = at, t
	return nil
}
