package session

import (
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// walk is the bench's list of alternatives for one note and the place in it.
type walk struct {
	step int
	list []arrange.Alternative
	at   int // -1 when the filter leaves the chosen block out
	all  int // how many there are without the filter
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

// IsPinned reports whether the bench's note has a pin, or one of the selected
// notes.
func (s *Session) IsPinned() bool {
	if s.InGroup() {
		return slices.ContainsFunc(s.SelectedIndexes(), func(i int) bool { return s.real.Steps[i].Pinned })
	}
	step, ok := s.Step()
	return ok && step.Pinned
}

// PinStrength says how much of the bench's note a pin fixes; ok is false without
// a pin.
func (s *Session) PinStrength() (strength project.PinStrength, ok bool) {
	step, ok := s.Step()
	if !ok {
		return 0, false
	}
	i, ok := s.Chart().PinStarting(step.Start)
	if !ok {
		return 0, false
	}
	return s.Chart().Pins[i].Strength, true
}

// Alternatives returns the blocks the bench offers for its note and the one
// that is being heard, -1 where the filter leaves that one out. The list is
// worked out when it is first asked for.
func (s *Session) Alternatives() (list []arrange.Alternative, at int) {
	w := s.walk()
	if w == nil {
		return nil, 0
	}
	return w.list, w.at
}

// Offered counts the blocks that the bench's note could have without the filter.
func (s *Session) Offered() int {
	if w := s.walk(); w != nil {
		return w.all
	}
	return 0
}

func (s *Session) walk() *walk {
	i, ok := s.Current()
	if !ok || i >= len(s.real.Steps) {
		return nil
	}
	if s.alternatives == nil || s.alternatives.step != i {
		w := &walk{step: i, at: -1}
		w.list, w.all = s.offered(i)
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

// WalkAlternatives goes to the next or previous alternative, or way to play the
// selected notes, and sounds it.
func (s *Session) WalkAlternatives(by int) {
	if _, list, at := s.Group(); s.InGroup() {
		s.PickManner(min(max(at+by, 0), len(list)-1))
		return
	}
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
	if w := s.alternatives; w != nil && w.at >= 0 && w.at < len(w.list) {
		if i, _ := s.Current(); w.step == i {
			return w.list[w.at].Block, true
		}
	}
	return step.Block, true
}

// Pin keeps the shown block for the bench's note, or the way to play the
// selected notes that was walked to.
func (s *Session) Pin() error {
	if s.InGroup() {
		return s.pinGroup(blockPin)
	}
	step, ok := s.Step()
	if !ok {
		return nil
	}
	block, _ := s.Shown()
	sel := s.sel
	return s.doThen(pinAt(step.Start, blockPin(block)), func() { s.sel = sel })
}

func pinAt(start project.Ticks, e project.SetPin) project.SetPin {
	e.Start = start
	return e
}

// Unpin lets the arranger choose again for the bench's note or the selected
// ones.
func (s *Session) Unpin() error {
	if s.InGroup() {
		return s.unpinGroup()
	}
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

// HearBench sounds the block the bench shows; of several notes it plays the way
// that was walked to in turn with how they are.
func (s *Session) HearBench() error {
	if s.InGroup() {
		return s.hearGroup()
	}
	s.HearCurrent()
	return nil
}

// HearCurrent sounds the block of the bench's note.
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
	s.ready = nil
	if err := s.sound.Audition(arrange.Upper, keys, s.Passage().Registration); err != nil {
		s.Say(Sentence(err))
	}
}
