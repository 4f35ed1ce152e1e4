package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// gridScroll scrolls the grid, and zooms it by the wheel with a modifier. The
// wheel is taken here and not by the grid itself: the toolkit takes what can be
// scrolled for a window of its own, and clicks beside the visible part would
// reach the grid.
type gridScroll struct {
	settledScroll
	w *Window
}

var _ fyne.Scrollable = (*gridScroll)(nil)

func newGridScroll(g *gridView) *gridScroll {
	s := &gridScroll{w: g.w}
	s.Content, s.Direction = g, container.ScrollVerticalOnly
	s.ExtendBaseWidget(s)
	return s
}

// Scrolled scrolls, or zooms with Ctrl (columns) or Ctrl and Alt (rows), as the
// keys do; Shift is taken for Alt, which some systems keep for themselves.
func (s *gridScroll) Scrolled(e *fyne.ScrollEvent) {
	m := modifiers()
	if m&(fyne.KeyModifierControl|fyne.KeyModifierSuper) == 0 {
		s.w.grid.still.topped = false
		s.settledScroll.Scrolled(e)
		return
	}
	step := 1
	if e.Scrolled.DY < 0 || e.Scrolled.DX < 0 {
		step = -1
	}
	if m&(fyne.KeyModifierAlt|fyne.KeyModifierShift) != 0 {
		s.w.Zoom(0, step)
	} else {
		s.w.Zoom(step, 0)
	}
}

// Resize lays the chart out again in a low window, whose height decides on its
// rows.
func (s *gridScroll) Resize(size fyne.Size) {
	old := s.Size()
	s.Scroll.Resize(size)
	if g := s.w.grid; g != nil && g.layout != nil && size.Height != old.Height && (size.Height < ordinaryGrid || g.lowered) {
		g.inPlace(g.relayout)
	}
}
