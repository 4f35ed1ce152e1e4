package session

import "organbook/internal/project"

// ToggleSegno sets or clears the segno at the first selected bar.
func (s *Session) ToggleSegno() error {
	from, _ := s.BarSpan()
	return s.changeBars("segno", from, from+1, func(b *project.Bar) { b.Segno = !b.Segno })
}

// ToggleCoda sets or clears the coda sign at the first selected bar.
func (s *Session) ToggleCoda() error {
	from, _ := s.BarSpan()
	return s.changeBars("coda", from, from+1, func(b *project.Bar) { b.Coda = !b.Coda })
}

// ToggleToCoda sets or clears "To Coda" after the last selected bar.
func (s *Session) ToggleToCoda() error {
	_, to := s.BarSpan()
	return s.changeBars("to coda", to-1, to, func(b *project.Bar) { b.ToCoda = !b.ToCoda })
}

// ToggleFine sets or clears "Fine" after the last selected bar.
func (s *Session) ToggleFine() error {
	_, to := s.BarSpan()
	return s.changeBars("fine", to-1, to, func(b *project.Bar) { b.Fine = !b.Fine })
}

// SetJump sets the jump after the last selected bar; NoJump takes it away.
func (s *Session) SetJump(j project.Jump) error {
	_, to := s.BarSpan()
	return s.changeBars("jump", to-1, to, func(b *project.Bar) { b.Jump = j })
}

// HasJump reports whether there is a jump after the last selected bar.
func (s *Session) HasJump() bool {
	_, to := s.BarSpan()
	return s.Chart().Bars[to-1].Jump != project.NoJump
}
