package ui

import (
	"fmt"
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/words"
)

// cardText is what a passage's card says: its name, its treatment with the hand
// plan, and its sound with the take in use. The lines come in several lengths,
// longest first, so that none has to be cut.
type cardText struct {
	title            string
	treatment, sound []string
}

// cardOf says what a passage is set to.
func cardOf(title string, p project.Passage) cardText {
	return cardText{title, treatmentLines(p), soundLines(p)}
}

func treatmentLines(p project.Passage) []string {
	voicing, plan := words.Voicing(p.Treatment.Voicing), words.Plan(p.Plan)
	short := strings.ReplaceAll(voicing, " and ", "+")
	lines := []string{voicing + " · " + plan, short + " · " + plan, short + " · " + words.ShortPlan(p.Plan), short}
	if p.Treatment.TwoFiveAsFive {
		lines = append([]string{lines[0] + " · ii–V as V"}, lines...)
	}
	return lines
}

func soundLines(p project.Passage) []string {
	sound := p.Registration.Name
	n := len(p.Takes)
	if n < 2 {
		return []string{sound + " · rotary " + p.Registration.Rotary.String(), sound}
	}
	take := fmt.Sprintf("take %d of %d", p.Take+1, n)
	lines := []string{sound + " · " + take, take}
	if name := p.TakeName(); name != "" && name != fmt.Sprintf("Take %d", p.Take+1) {
		lines = append([]string{sound + " · " + take + ": " + name, take + ": " + name}, lines...)
	}
	return lines
}

// hint is the card in a sentence.
func (c cardText) hint() string {
	return c.title + ": " + c.treatment[0] + ", " + c.sound[0] + ". Double-click changes it."
}

func (c cardText) equal(d cardText) bool {
	return c.title == d.title && c.treatment[0] == d.treatment[0] && c.sound[0] == d.sound[0]
}

// firstFitting returns the first line that fits a width, or the last one cut.
func firstFitting(lines []string, t *canvas.Text, width float32) string {
	for _, line := range lines {
		line = tr(line)
		if fitText(line, t, width) == line {
			return line
		}
	}
	if len(lines) == 0 {
		return ""
	}
	return fitText(tr(lines[len(lines)-1]), t, width)
}

// card is one passage.
type card struct {
	widget.BaseWidget
	s             *stripView
	index         int
	says          cardText
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

func (c *card) show(says cardText, current bool) {
	if len(c.says.treatment) == 0 || !c.says.equal(says) || c.current != current {
		c.says, c.current = says, current
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
	c.s.w.hint(c.says.hint())
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
	r := &cardRenderer{c: c, face: canvas.NewRectangle(color.Transparent), span: canvas.NewRectangle(color.Transparent), title: text("", sizeText, true, color.White), treatment: text("", sizeSmall, false, color.White), sound: text("", sizeSmall, false, color.White)}
	r.face.CornerRadius = radiusControl
	r.Refresh()
	return r
}

type cardRenderer struct {
	c                       *card
	face                    *canvas.Rectangle
	span                    *canvas.Rectangle // the line that says how far the card goes
	title, treatment, sound *canvas.Text
}

// Layout puts the three lines into the card.
func (r *cardRenderer) Layout(s fyne.Size) {
	put(r.face, 1, 1, s.Width-2, s.Height-2)
	put(r.span, 1, s.Height-3, s.Width-2, 2)
	room := s.Width - 5*unit
	r.title.Text = fitText(r.c.says.title, r.title, room)
	r.treatment.Text = firstFitting(r.c.says.treatment, r.treatment, room)
	r.sound.Text = firstFitting(r.c.says.sound, r.sound, room)
	top, second, third := s.Height/2-25, float32(18), float32(33)
	if s.Height < stripHeight { // over the scroll bar
		top, second, third = s.Height/2-24, 17, 31
	}
	setVisible(s.Height >= stripHeight/2, r.treatment, r.sound)
	if !r.sound.Visible() { // the name alone
		top = s.Height/2 - 9
	}
	move(r.title, 2.5*unit, top)
	move(r.treatment, 2.5*unit, top+second)
	move(r.sound, 2.5*unit, top+third)
}

// MinSize is a narrow card.
func (r *cardRenderer) MinSize() fyne.Size { return fyne.NewSize(leastCard, stripHeight) }

// Refresh follows state and theme.
func (r *cardRenderer) Refresh() {
	p := r.c.s.w.look.colours()
	r.face.FillColor, r.face.StrokeColor, r.face.StrokeWidth = color.Transparent, color.Transparent, 0 // costs nothing
	r.span.FillColor = p.Line
	if r.c.current {
		r.span.FillColor = color.Transparent
		r.face.FillColor, r.face.StrokeColor, r.face.StrokeWidth = p.Raised, p.Accent, 1.5
	} else if r.c.over {
		r.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	r.title.Color, r.treatment.Color, r.sound.Color = p.Text, p.Muted, p.Muted
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}

// Objects are drawn in this order.
func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.face, r.span, r.title, r.treatment, r.sound}
}

// Destroy has nothing to free.
func (r *cardRenderer) Destroy() {}
