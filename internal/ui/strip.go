package ui

import (
	"image/color"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/words"
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

// MinSize is all cards side by side.
func (c *cardLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	n := float32((len(o) + 1) / 2)
	return fyne.NewSize(n*c.s.cardWidth(n)+(n-1)*gap, stripHeight)
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
		s.cards[i].show(s.w.session.PassageTitle(i), passageLines(chart.Passages[i]), i == current)
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

// passageLines are the second line of a card, treatment, plan and extras, from
// the longest form to the shortest.
func passageLines(p project.Passage) []string {
	voicing, plan := words.Voicing(p.Treatment.Voicing), words.Plan(p.Plan)
	short := strings.ReplaceAll(voicing, " and ", "+")
	lines := []string{voicing + " · " + plan, short + " · " + plan, short + " · " + words.ShortPlan(p.Plan)}
	if p.Treatment.TwoFiveAsFive {
		lines = append([]string{lines[0] + " · ii–V as V"}, lines...)
	}
	return lines
}

// firstFitting returns the first line that fits a width, or the last one cut.
func firstFitting(lines []string, t *canvas.Text, width float32) string {
	for _, line := range lines {
		if fitText(line, t, width) == line {
			return line
		}
	}
	if len(lines) == 0 {
		return ""
	}
	return fitText(lines[len(lines)-1], t, width)
}

// CreateRenderer shows the cards and the ring.
func (s *stripView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.New(&ringLayout{}, s.scroll, s.ring))
}

// card is one passage.
type card struct {
	widget.BaseWidget
	s             *stripView
	index         int
	title         string
	lines         []string
	current, over bool
}

var (
	_ fyne.Widget            = (*card)(nil)
	_ fyne.SecondaryTappable = (*card)(nil)
	_ fyne.DoubleTappable    = (*card)(nil)
	_ desktop.Mouseable      = (*card)(nil)
	_ desktop.Hoverable      = (*card)(nil)
)

func newCard(s *stripView, index int) *card {
	c := &card{s: s, index: index}
	c.ExtendBaseWidget(c)
	return c
}

func (c *card) show(title string, lines []string, current bool) {
	if c.title != title || !slices.Equal(c.lines, lines) || c.current != current {
		c.title, c.lines, c.current = title, lines, current
		c.Refresh()
	}
}

// MouseDown chooses the passage and takes the keyboard.
func (c *card) MouseDown(*desktop.MouseEvent) {
	c.s.w.focusPanel(command.Strip)
	c.s.w.session.SelectPassageAt(c.index)
}

// MouseUp does nothing; desktop.Mouseable asks for it.
func (c *card) MouseUp(*desktop.MouseEvent) {}

// DoubleTapped opens the passage's form.
func (c *card) DoubleTapped(*fyne.PointEvent) { c.s.w.Form(command.FormTreatment) }

// TappedSecondary opens the passage's menu.
func (c *card) TappedSecondary(e *fyne.PointEvent) {
	c.s.w.session.SelectPassageAt(c.index)
	c.s.w.showContextMenu(passageMenus(), e.AbsolutePosition)
}

// passageMenus are what a card's menu shows.
func passageMenus() []string { return append([]string{"Passage", "Take"}, ofPassage...) }

// MouseIn lights the card.
func (c *card) MouseIn(*desktop.MouseEvent) {
	c.over = true
	c.s.w.hint(c.title + ": " + c.lines[0] + ". Double-click changes it.")
	c.Refresh()
}

// MouseMoved does nothing.
func (c *card) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light away.
func (c *card) MouseOut() {
	c.over = false
	c.s.w.hint("")
	c.Refresh()
}

// CreateRenderer draws the card.
func (c *card) CreateRenderer() fyne.WidgetRenderer {
	r := &cardRenderer{c: c, face: canvas.NewRectangle(color.Transparent), title: text("", sizeText, true, color.White), detail: text("", sizeSmall, false, color.White)}
	r.face.CornerRadius = radiusControl
	r.Refresh()
	return r
}

type cardRenderer struct {
	c             *card
	face          *canvas.Rectangle
	title, detail *canvas.Text
}

// Layout puts the two lines into the card.
func (r *cardRenderer) Layout(s fyne.Size) {
	put(r.face, 1, 1, s.Width-2, s.Height-2)
	room := s.Width - 6*unit
	r.title.Text = fitText(r.c.title, r.title, room)
	r.detail.Text = firstFitting(r.c.lines, r.detail, room)
	move(r.title, 3*unit, s.Height/2-17)
	move(r.detail, 3*unit, s.Height/2+2)
}

// MinSize is a narrow card.
func (r *cardRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCard, stripHeight) }

// Refresh follows state and theme.
func (r *cardRenderer) Refresh() {
	p := r.c.s.w.look.colours()
	r.face.FillColor, r.face.StrokeColor, r.face.StrokeWidth = p.Panel, p.Hair, 1
	if r.c.current {
		r.face.FillColor, r.face.StrokeColor, r.face.StrokeWidth = p.Raised, p.Accent, 1.5
	} else if r.c.over {
		r.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	r.title.Color, r.detail.Color = p.Text, p.Muted
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}

// Objects are drawn in this order.
func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.face, r.title, r.detail}
}

// Destroy has nothing to free.
func (r *cardRenderer) Destroy() {}
