package ui

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// stripView shows the passages as cards side by side; the one with the caret
// is raised. With many of them the strip scrolls sideways.
type stripView struct {
	panel
	scroll *container.Scroll
	row    *fyne.Container
	cards  []*card
	edges  []*edge // between the cards
}

var (
	_ fyne.Widget       = (*stripView)(nil)
	_ fyne.Focusable    = (*stripView)(nil)
	_ fyne.Shortcutable = (*stripView)(nil)
)

// leastCard is the narrowest a passage's card gets.
const leastCard float32 = 132

func newStripView(w *Window) *stripView {
	s := &stripView{}
	s.panel.init(w, command.Strip)
	s.row = container.New(&cardLayout{s})
	s.scroll = container.NewHScroll(s.row)
	s.ExtendBaseWidget(s)
	return s
}

// cardLayout shares the width out evenly among the cards, but lets none get too
// narrow. The cards come first, then the edges between them.
type cardLayout struct{ s *stripView }

// MinSize is all cards side by side, as low as their names alone.
func (c *cardLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	n := float32((len(o) + 1) / 2)
	return fyne.NewSize(n*c.s.cardWidth(n)+(n-1)*gap, namesHeight)
}

// cardWidth shares the strip's width among all of n cards or, where they would
// get too narrow, among as many as fit whole.
func (s *stripView) cardWidth(n float32) float32 {
	view := s.scroll.Size().Width
	whole := float32(math.Floor(float64((view + gap) / (leastCard + gap))))
	shown := max(1, min(n, whole))
	return max((view-(shown-1)*gap)/shown, leastCard)
}

// Layout places the cards.
func (c *cardLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	n := (len(o) + 1) / 2
	width := c.s.cardWidth(float32(n))
	height := size.Height
	if float32(n)*(width+gap) > c.s.scroll.Size().Width+gap+1 {
		height -= 5 // the scroll bar's room
	}
	for i, card := range o[:n] {
		put(card, float32(i)*(width+gap), 0, width, height)
	}
	for i, border := range o[n:] {
		put(border, float32(i+1)*(width+gap)-gap-2, 0, gap+4, size.Height)
	}
}

// update follows the passages of the chart.
func (s *stripView) update() {
	chart := s.w.session.Chart()
	current := s.w.session.HeardPassage()
	for len(s.cards) < len(chart.Passages) {
		s.cards = append(s.cards, newCard(s, len(s.cards)))
		s.edges = append(s.edges, newEdge(s, len(s.edges)+1))
	}
	if n := len(chart.Passages); len(s.row.Objects) != 2*n-1 {
		s.row.Objects = nil
		for _, c := range s.cards[:n] {
			s.row.Objects = append(s.row.Objects, c)
		}
		for _, e := range s.edges[:n-1] {
			s.row.Objects = append(s.row.Objects, e)
		}
		s.row.Refresh()
		s.scroll.Refresh()
	}
	for i := range chart.Passages {
		says := cardOf(s.w.passageTitle(i), chart.Passages[i])
		if name, on := s.w.session.Comparing(); on && i == current {
			says.sound = []string{"hearing " + name, name}
		}
		s.cards[i].show(says, i == current)
	}
	s.reveal(current)
}

// reveal scrolls a card into view.
func (s *stripView) reveal(i int) {
	if i >= len(s.cards) {
		return
	}
	o := s.row.Objects[i]
	left, right := o.Position().X, o.Position().X+o.Size().Width
	view, offset := s.scroll.Size().Width, s.scroll.Offset.X
	if left < offset || right-left > view {
		s.scroll.Offset.X = left
		s.scroll.Refresh()
	} else if right > offset+view && view > 0 {
		s.scroll.Offset.X = right - view
		s.scroll.Refresh()
	}
}

// CreateRenderer shows the cards and the ring.
func (s *stripView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.New(&ringLayout{}, s.scroll, s.ring))
}
