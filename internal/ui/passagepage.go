package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// passagePage is the form of the caret's passage, a page of the column beside
// the grid: everything that is set for a passage, in parts. Every change takes
// effect at once, is seen on the grid and heard, and is one step to undo.
type passagePage struct {
	b       *benchView
	heading *canvas.Text
	place   *canvas.Text
	parts   []*button
	items   [][]formItem // by part
	part    int
}

func newPassagePage(b *benchView) *passagePage {
	p := b.w.look.colours()
	v := &passagePage{b: b, heading: text("", sizeHeading, true, p.Text), place: text("", sizeSmall, false, p.Muted), part: 1}
	for _, name := range command.PassageSections() {
		part := b.w.top.command(name, "form."+name)
		part.compact = true
		v.parts = append(v.parts, part)
	}
	v.items = [][]formItem{v.outline(), v.blocks(), v.harmony(), v.line(), v.hands(), v.sound(), v.takes()}
	return v
}

// turn shows a part of the form and gives the keyboard to its first control.
func (v *passagePage) turn(part int) {
	v.b.w.unfold(command.PassageForm)
	v.part = (part + len(v.items)) % len(v.items)
	v.b.scroll.Offset = fyne.Position{}
	v.b.showPage(command.PassageForm)
	v.b.update()
	for _, o := range v.objects()[len(v.parts)+2:] {
		if f, ok := o.(fyne.Focusable); ok {
			v.b.w.win.Canvas().Focus(f)
			return
		}
	}
}

// update shows what the passage is set to.
func (v *passagePage) update() {
	s := v.b.w.session
	c, i := s.Chart(), s.CurrentPassage()
	first, end := c.PassageBars(i)
	v.heading.Text = v.b.w.passageTitle(i)
	v.place.Text = barsWords(c, first, end) + " · " + say(phrase.Of("%d of %d", i+1, len(c.Passages)))
	for k, part := range v.parts {
		part.setLabel(command.PassageSections()[k], k == v.part)
	}
	for _, item := range v.items[v.part] {
		item.update(s.Passage())
	}
}

// barsWords is "bars 1–8" or "bar 3".
func barsWords(c *project.Chart, first, end int) string {
	if end-first == 1 {
		return tr(fmt.Sprintf("bar %d", c.BarNumber(first)))
	}
	return tr(fmt.Sprintf("bars %d–%d", c.BarNumber(first), c.BarNumber(end-1)))
}

// barsText is the selected bars in words.
func barsText(s *session.Session) string {
	from, to := s.BarSpan()
	return barsWords(s.Chart(), from, to)
}

func (v *passagePage) objects() []fyne.CanvasObject {
	o := []fyne.CanvasObject{v.heading, v.place}
	for _, part := range v.parts {
		o = append(o, part)
	}
	for _, item := range v.items[v.part] {
		o = append(o, item.objects()...)
	}
	return o
}

// arrange walks down the page and returns its end.
func (v *passagePage) arrange(y, inner float32, set placing) float32 {
	place := v.place.MinSize()
	room := inner - place.Width - 10
	v.heading.Text = fitText(v.b.w.passageTitle(v.b.w.session.CurrentPassage()), v.heading, room)
	set(v.heading, benchPad, y+2, room, 20)
	set(v.place, benchPad+inner-place.Width, y+5, place.Width, place.Height)
	y = flow(v.parts, y+28, inner, set) + 10
	for _, item := range v.items[v.part] {
		y = item.arrange(y, inner, set) + 2
	}
	return y + 4
}

// chosen is nothing: the form scrolls to the control that has the keyboard.
func (v *passagePage) chosen() (fyne.CanvasObject, bool) { return nil, false }

func (v *passagePage) retint() {
	p := v.b.w.look.colours()
	v.heading.Color, v.place.Color = p.Text, p.Muted
	for _, item := range slices.Concat(v.items...) {
		item.retint(v.b.w)
	}
}

// seen scrolls so that an object of the form can be seen.
func (v *passagePage) seen(o fyne.CanvasObject) {
	if v.b.page == command.PassageForm {
		v.b.revealRow(o, false)
	}
}
