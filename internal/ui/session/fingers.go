package session

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// FingerKey is a key that a hand strikes together with the bench's note.
type FingerKey struct {
	Key    int
	Name   string // as it is spelled, such as "E♭5"
	Limb   arrange.Limb
	Finger int
	// Own reports that the finger is the user's choice.
	Own bool
}

// fingerPlace is the key whose finger is asked about.
type fingerPlace struct {
	start project.Ticks
	key   int
}

// FingerKeys lists the keys that the hands strike with the bench's note, from
// the top down.
func (s *Session) FingerKeys() (out []FingerKey) {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	for i := range s.real.Notes {
		n := &s.real.Notes[i]
		if n.Start > step.Start {
			break
		}
		if n.Start == step.Start && n.Division != arrange.Pedal && n.Finger > 0 {
			out = append(out, FingerKey{n.Key, theory.Pretty(n.Pitch.String()), n.Limb, n.Finger, s.Chart().FingerOf(n.Start, n.Key) > 0})
		}
	}
	slices.SortStableFunc(out, func(a, b FingerKey) int { return cmp.Compare(b.Key, a.Key) })
	return slices.CompactFunc(out, func(a, b FingerKey) bool { return a.Key == b.Key })
}

// PickedFinger returns the place in FingerKeys of the key that the next finger
// is for, the top one unless another was picked; -1 without any.
func (s *Session) PickedFinger() int {
	list := s.FingerKeys()
	if len(list) == 0 {
		return -1
	}
	step, _ := s.Step()
	at := slices.IndexFunc(list, func(k FingerKey) bool { return s.fingering == fingerPlace{step.Start, k.Key} })
	return max(at, 0)
}

// HasFingerKeys reports whether there is a key to give a finger to.
func (s *Session) HasFingerKeys() bool { return s.PickedFinger() >= 0 }

// HasPickedOwn reports whether the picked key has a finger of the user's own.
func (s *Session) HasPickedOwn() bool {
	at := s.PickedFinger()
	return at >= 0 && s.FingerKeys()[at].Own
}

// PickFinger picks the key that the next finger is for by its place in
// FingerKeys; beyond the last one it starts over.
func (s *Session) PickFinger(i int) {
	list := s.FingerKeys()
	if len(list) == 0 {
		return
	}
	step, _ := s.Step()
	s.fingering = fingerPlace{step.Start, list[(i%len(list)+len(list))%len(list)].Key}
	s.notify(SelectionChanged)
}

// SetFinger gives the picked key a finger of the user's own, 1 (thumb) to 5,
// which the rest is fingered around; 0 leaves the choice to the program again.
func (s *Session) SetFinger(finger int) error {
	at := s.PickedFinger()
	if at < 0 {
		return s.fail(errors.New("no hand strikes a key with this note"))
	}
	k := s.FingerKeys()[at]
	if finger == 0 && !k.Own {
		return s.fail(fmt.Errorf("the finger on %s is the program's choice already", k.Name))
	}
	step, _ := s.Step()
	sel := s.sel
	return s.doThen(project.SetFinger{Start: step.Start, Key: k.Key, Finger: finger}, func() { s.sel = sel })
}

// HasOwnFingers reports whether the bench's note has fingers of the user's own.
func (s *Session) HasOwnFingers() bool {
	return slices.ContainsFunc(s.FingerKeys(), func(k FingerKey) bool { return k.Own })
}

// ClearFingers leaves all fingers of the bench's note to the program again.
func (s *Session) ClearFingers() error {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	sel := s.sel
	return s.doThen(project.ClearFingers{From: step.Start, To: step.Start + 1}, func() { s.sel = sel })
}
