package ui

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/paint"
)

// headView is the chart's title over its facts. A click on the title, the key,
// the meter or the tempo opens the form that changes it, one on the swing a menu;
// over the swing the wheel changes it. What the pointer is over is underlined.
type headView struct {
	widget.BaseWidget
	w            *Window
	title, facts *canvas.Text
	line         *canvas.Rectangle
}

var (
	_ fyne.Tappable      = (*headView)(nil)
	_ fyne.Scrollable    = (*headView)(nil)
	_ desktop.Hoverable  = (*headView)(nil)
	_ desktop.Cursorable = (*headView)(nil)
)

// headPart is a stretch of the head that a click changes.
type headPart struct {
	x0, x1  float32
	of      *canvas.Text
	command string
}

func newHeadView(w *Window) *headView {
	p := w.look.colours()
	h := &headView{w: w, title: text("", sizeTitle, true, p.Text), facts: text("", sizeSmall, false, p.Muted), line: canvas.NewRectangle(color.Transparent)}
	away(h.line)
	h.ExtendBaseWidget(h)
	return h
}

// factsApart is what stands between two facts.
const factsApart = " · "

// parts returns what can be clicked, as far as it can be read.
func (h *headView) parts() []headPart {
	width := func(s string) float32 { return textWidth(s, h.facts) }
	out := []headPart{{0, h.title.MinSize().Width, h.title, "chart.title"}}
	x := float32(0)
	words := strings.Split(h.facts.Text, factsApart)
	commands := factCommands[:]
	if paint.Swings(h.w.session.Chart()) {
		commands = append(commands, swingFact)
	}
	for i, id := range commands[:min(len(words), len(commands))] {
		end := x + width(words[i])
		out = append(out, headPart{x, end, h.facts, id})
		x = end + width(factsApart)
	}
	return out
}

// factCommands are the commands that change the first facts of a chart, in their
// order.
var factCommands = [...]string{"bar.key", "bar.meter", "bar.tempo"}

// swingFact stands for the swing after them, which several commands change.
const swingFact = "swing."

const swingHint = "Swing: click for straight to hard, or turn the wheel for 1 % more or less"

// at returns the part under a point.
func (h *headView) at(p fyne.Position) (headPart, bool) {
	for _, part := range h.parts() {
		o := part.of
		if top := o.Position().Y; p.X >= part.x0-3 && p.X < part.x1+3 && p.Y >= top && p.Y < top+o.Size().Height {
			return part, true
		}
	}
	return headPart{}, false
}

// Tapped opens the form of what is under the pointer. The head tells how the
// chart starts, so it is the first bar that is changed.
func (h *headView) Tapped(e *fyne.PointEvent) {
	part, ok := h.at(e.Position)
	switch {
	case ok && part.command == swingFact:
		h.w.showCommands("Eighths", h, "bar.tempo")
	case ok:
		if part.command != "chart.title" {
			h.w.session.SetCaret(0)
		}
		h.w.run(part.command)
	}
}

// Scrolled makes the eighths swing more or less.
func (h *headView) Scrolled(e *fyne.ScrollEvent) {
	if part, ok := h.at(e.Position); ok && part.command == swingFact {
		if e.Scrolled.DY > 0 {
			h.w.run("swing.more")
		} else if e.Scrolled.DY < 0 {
			h.w.run("swing.less")
		}
	}
}

// MouseIn lights what is under the pointer.
func (h *headView) MouseIn(e *desktop.MouseEvent) { h.MouseMoved(e) }

// MouseMoved underlines what a click would change and says so.
func (h *headView) MouseMoved(e *desktop.MouseEvent) {
	part, ok := h.at(e.Position)
	if !ok {
		h.MouseOut()
		return
	}
	h.line.FillColor = h.w.look.colours().Accent
	put(h.line, part.x0, part.of.Position().Y+part.of.Size().Height-1, part.x1-part.x0, 1)
	if part.command == swingFact {
		h.w.hint(tr(swingHint))
	} else {
		h.w.hint(tr(h.w.commands.Find(part.command).Title))
	}
}

// MouseOut takes the light away.
func (h *headView) MouseOut() {
	away(h.line)
	h.w.hint("")
}

// Cursor shows what can be clicked.
func (h *headView) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer shows the title over the facts.
func (h *headView) CreateRenderer() fyne.WidgetRenderer { return &headRenderer{h} }

type headRenderer struct{ h *headView }

// Layout puts the title on the bar's upper base line and the facts on the lower
// one.
func (r *headRenderer) Layout(s fyne.Size) {
	move(r.h.title, 0, s.Height/2-23)
	move(r.h.facts, 0, s.Height/2+4)
}

// MinSize is left to the bar.
func (r *headRenderer) MinSize() fyne.Size { return fyne.NewSize(80, 46) }

// Refresh lays both out again.
func (r *headRenderer) Refresh() { r.Layout(r.h.Size()) }

// Objects are title, facts and the line under one of them.
func (r *headRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.h.title, r.h.facts, r.h.line}
}

// Destroy has nothing to free.
func (r *headRenderer) Destroy() {}
