package session

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
)

// The keyboard works one stop of the console at a time: a drawbar, or, where
// the effects are shown beside the drawbars, one of Controls. Places count the
// drawbars first.

// ShowEffects says whether the effects are shown, and so can be walked to. The
// keyboard goes to the first of them when they are opened.
func (s *Session) ShowEffects(on bool) {
	s.effectsShown = on
	if on && s.stop < Drawbars {
		s.stop = Drawbars
	}
	if !on && s.stop >= Drawbars {
		s.stop = 0
	}
	s.notify(SelectionChanged)
}

// EffectsShown reports whether the effects are shown beside the drawbars.
func (s *Session) EffectsShown() bool { return s.effectsShown }

// Drawbar returns the drawbar that has the keyboard in the console; ok is
// false where an effect has it.
func (s *Session) Drawbar() (i int, ok bool) { return s.stop, s.stop < Drawbars }

// Control returns the effect that has the keyboard; ok is false where a
// drawbar has it.
func (s *Session) Control() (i int, ok bool) { return s.stop - Drawbars, s.stop >= Drawbars }

// StepStop moves to the next or previous stop.
func (s *Session) StepStop(by int) {
	n := Drawbars
	if s.effectsShown {
		n += len(Controls)
	}
	s.stop = (s.stop + by + n) % n
	on := 1
	if by < 0 {
		on = -1
	}
	for !s.hasStop(s.stop) {
		s.stop = (s.stop + on + n) % n
	}
	s.sayStop()
	s.notify(SelectionChanged)
}

// hasStop reports whether the console has a stop: one without pedals has no
// drawbars for them.
func (s *Session) hasStop(i int) bool {
	if i >= Drawbars {
		return true
	}
	d, _ := DrawbarPlace(i)
	return d != arrange.Pedal || s.HasPedals()
}

// HasPedals reports whether the chart's console has a pedalboard.
func (s *Session) HasPedals() bool {
	k, ok := project.ConsoleByID(s.Chart().Console)
	return !ok || k.Pedal.Keys() > 0
}

// PickDrawbar gives a drawbar the keyboard.
func (s *Session) PickDrawbar(i int) {
	if i >= 0 && i < Drawbars && s.hasStop(i) {
		s.stop = i
		s.notify(SelectionChanged)
	}
}

// PickControl gives an effect the keyboard, and shows the effects.
func (s *Session) PickControl(i int) {
	if i >= 0 && i < len(Controls) {
		s.stop, s.effectsShown = Drawbars+i, true
		s.notify(SelectionChanged)
	}
}

// TurnStop moves the stop that has the keyboard by some steps.
func (s *Session) TurnStop(by int) error {
	if i, ok := s.Control(); ok {
		return s.Turn(&Controls[i], by)
	}
	if !s.hasStop(s.stop) { // the console was changed meanwhile
		s.stop = 0
	}
	return s.SetDrawbar(s.stop, s.DrawbarValue(s.stop)+by)
}

// sayStop says what the effect does that has been walked to.
func (s *Session) sayStop() {
	if i, ok := s.Control(); ok {
		s.Say(Controls[i].Hint + ".")
	}
}
