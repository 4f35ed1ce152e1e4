package session

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// walk is the bench's list of alternatives for one note and the place in it.
type walk struct {
	step int
	list []arrange.Alternative
	at   int
}

// HasCurrent reports whether there is a note for the bench to show.
func (s *Session) HasCurrent() bool {
	_, ok := s.Current()
	return ok
}

// Step returns the realisation of the bench's note.
func (s *Session) Step() (arrange.Step, bool) {
	i, ok := s.Current()
	if !ok || i >= len(s.real.Steps) {
		return arrange.Step{}, false
	}
	return s.real.Steps[i], true
}

// IsPinned reports whether the bench's note has a pin.
func (s *Session) IsPinned() bool {
	step, ok := s.Step()
	return ok && step.Pinned
}

// Alternatives returns the blocks the bench offers for its note and the one
// that is being heard. The list is worked out when it is first asked for.
func (s *Session) Alternatives() (list []arrange.Alternative, at int) {
	w := s.walk()
	if w == nil {
		return nil, 0
	}
	return w.list, w.at
}

func (s *Session) walk() *walk {
	i, ok := s.Current()
	if !ok || i >= len(s.real.Steps) {
		return nil
	}
	if s.alternatives == nil || s.alternatives.step != i {
		w := &walk{step: i, list: s.real.Alternatives(i)}
		for j, a := range w.list {
			if sameVoices(a.Block, s.real.Steps[i].Block) {
				w.at = j
			}
		}
		s.alternatives = w
	}
	return s.alternatives
}

func sameVoices(a, b arrange.Block) bool {
	if len(a.Voices) != len(b.Voices) {
		return false
	}
	for i := range a.Voices {
		if a.Voices[i].Key() != b.Voices[i].Key() {
			return false
		}
	}
	return true
}

// WalkAlternatives goes to the next or previous alternative and sounds it.
func (s *Session) WalkAlternatives(by int) {
	if w := s.walk(); w != nil && len(w.list) > 0 {
		s.PickAlternative(min(max(w.at+by, 0), len(w.list)-1))
	}
}

// PickAlternative goes to an alternative and sounds it.
func (s *Session) PickAlternative(i int) {
	w := s.walk()
	if w == nil || i < 0 || i >= len(w.list) {
		return
	}
	w.at = i
	s.hearBlock(w.list[i].Block)
	s.notify(SelectionChanged)
}

// Shown returns the block the bench is showing: the alternative walked to, or
// the one in the realisation.
func (s *Session) Shown() (arrange.Block, bool) {
	step, ok := s.Step()
	if !ok {
		return arrange.Block{}, false
	}
	if w := s.alternatives; w != nil && w.at < len(w.list) {
		if i, _ := s.Current(); w.step == i {
			return w.list[w.at].Block, true
		}
	}
	return step.Block, true
}

// Pin keeps the shown block for the bench's note.
func (s *Session) Pin() error {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	block, _ := s.Shown()
	sel := s.sel
	return s.doThen(project.SetPin{Start: step.Start, Voicing: block.Voicing, Voices: block.Voices}, func() { s.sel = sel })
}

// Unpin lets the arranger choose again.
func (s *Session) Unpin() error {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	sel := s.sel
	return s.doThen(project.ClearPin{Start: step.Start}, func() { s.sel = sel })
}

// StepNote selects the next or previous note.
func (s *Session) StepNote(by int) {
	i, ok := s.Current()
	switch {
	case ok:
		i += by
	case by > 0:
		i, _ = s.Chart().NoteStarting(s.sel.Caret)
	default:
		i, _ = s.noteBefore(s.sel.Caret)
	}
	if i >= 0 && i < len(s.Chart().Melody) {
		s.SelectNote(i, false)
		s.HearCurrent()
	}
}

// HearCurrent sounds the block the bench shows.
func (s *Session) HearCurrent() {
	if block, ok := s.Shown(); ok {
		s.hearBlock(block)
	}
}

// hearStep sounds the block of the note that starts at t.
func (s *Session) hearStep(t project.Ticks) {
	if i, ok := s.Chart().NoteStarting(t); ok && i < len(s.real.Steps) {
		s.hearBlock(s.real.Steps[i].Block)
	}
}

func (s *Session) hearBlock(b arrange.Block) { s.HearVoices(b.Voices) }

// HearVoices sounds voices briefly, unless the transport plays.
func (s *Session) HearVoices(voices []theory.Pitch) {
	if s.transport.playing {
		return
	}
	keys := make([]int, len(voices))
	for i, v := range voices {
		keys[i] = v.Key()
	}
	if err := s.sound.Audition(arrange.Upper, keys, s.Passage().Registration); err != nil {
		s.Say(Sentence(err))
	}
}
