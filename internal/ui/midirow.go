package ui

import (
	"image/color"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/player/midi"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// midiRow shows a line of the MIDI page: a mark of activity for ports, the
// label, and at the right the value as a button that opens its choices, and a
// button to learn.
type midiRow struct {
	widget.BaseWidget
	p           *midiPage
	index       int
	line        midiLine
	here, over  bool
	value, more *button
}

var (
	_ fyne.Tappable     = (*midiRow)(nil)
	_ desktop.Hoverable = (*midiRow)(nil)
)

func newMIDIRow(p *midiPage, index int) *midiRow {
	r := &midiRow{p: p, index: index}
	r.value = p.b.w.top.button("", "", r.open)
	r.more = p.b.w.top.button("learn", "", func() {
		p.b.w.focusPanel(command.MIDI)
		p.pick(index)
		p.b.w.LearnPort()
	})
	r.value.compact, r.more.compact = true, true
	r.ExtendBaseWidget(r)
	return r
}

func (r *midiRow) show(l *midiLine, here bool) {
	r.line, r.here = *l, here
	waits := r.line.learning(r.p.hub())
	label := "learn"
	if waits {
		label = "waiting…"
	}
	r.more.setLabel(label, waits)
	r.value.hint = "Choices for: " + r.line.label
	r.more.hint = "Learn from the next key that is pressed  (Enter)"
	switch {
	case r.line.control.IsSwitch():
		r.more.hint = "Learn from the next controller, key or program change  (Enter)"
	case r.line.control != midi.NoControl:
		r.more.hint = "Learn from the next controller that is moved  (Enter)"
	}
	r.value.setLabel(r.line.value(), false)
	r.Refresh()
}

// choiceLimit is how many choices a menu shows at once; a longer list is
// shown around the choice in force.
const choiceLimit = 18

// open shows the choices under the value.
func (r *midiRow) open() {
	w := r.p.b.w
	w.focusPanel(command.MIDI)
	r.p.pick(r.index)
	first := 0
	if n := len(r.line.choices); n > choiceLimit {
		first = min(max(r.line.chosen-choiceLimit/2, 0), n-choiceLimit)
	}
	var items []*fyne.MenuItem
	for i := first; i < min(first+choiceLimit, len(r.line.choices)); i++ {
		choose := r.line.choose
		item := fyne.NewMenuItem(tr(r.line.choices[i]), nil)
		item.Checked = i == r.line.chosen && (r.line.text == "" || r.line.toggle != nil)
		if r.line.toggle != nil {
			choose, item.Checked = r.line.toggle, r.line.several(i)
		}
		item.Action = func() { w.keyboards.set(choose(i)) }
		items = append(items, item)
	}
	at := w.app.Driver().AbsolutePositionForObject(r.value)
	menu := fyne.NewMenu("", items...)
	size := widget.NewMenu(menu).MinSize()
	view := w.win.Canvas().Size()
	y := min(at.Y+r.value.Size().Height+2, max(view.Height-size.Height-4, 0))
	x := min(at.X, max(view.Width-size.Width-4, 0))
	widget.ShowPopUpMenuAtPosition(menu, w.win.Canvas(), fyne.NewPos(x, y))
}

// mark shows whether something has just come in or gone out.
func (r *midiRow) mark() { r.Refresh() }

// lit reports whether something has just come in or gone out on the port.
func (r *midiRow) lit() bool { return r.line.port != "" && r.p.b.w.keyboards.lit[r.line.port] }

// Tapped gives the line the keyboard.
func (r *midiRow) Tapped(*fyne.PointEvent) {
	r.p.b.w.focusPanel(command.MIDI)
	r.p.pick(r.index)
}

// MouseIn lights the row and tells what came in last on its port.
func (r *midiRow) MouseIn(*desktop.MouseEvent) {
	r.over = true
	r.p.b.w.hint(r.says())
	r.Refresh()
}

// MouseMoved does nothing.
func (r *midiRow) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light away.
func (r *midiRow) MouseOut() {
	r.over = false
	r.p.b.w.hint("")
	r.Refresh()
}

// says is what stands in the status line for the row.
func (r *midiRow) says() string {
	if r.line.note != "" {
		return r.line.label + ": " + r.line.note
	}
	if last := r.line.state.Latest(); last != "" {
		return r.line.label + ": last came " + last
	}
	return r.line.label
}

// CreateRenderer draws the row.
func (r *midiRow) CreateRenderer() fyne.WidgetRenderer {
	o := &midiRowRenderer{r: r, face: canvas.NewRectangle(color.Transparent), dot: canvas.NewCircle(color.Transparent),
		label: text("", sizeSmall+1, false, color.White)}
	o.face.CornerRadius = radiusControl
	o.Refresh()
	return o
}

type midiRowRenderer struct {
	r     *midiRow
	face  *canvas.Rectangle
	dot   *canvas.Circle
	label *canvas.Text
}

// Layout puts mark and label left, value and learning right.
func (o *midiRowRenderer) Layout(s fyne.Size) {
	put(o.face, 0, 0, s.Width, s.Height)
	right := s.Width - 2
	if o.r.line.learns() {
		w := max(o.r.more.MinSize().Width, 58)
		put(o.r.more, right-w, 2, w, s.Height-4)
		right -= w + 4
	}
	left := float32(8)
	if o.r.line.port != "" {
		size := float32(8)
		if o.r.lit() {
			size = 13
		}
		put(o.dot, left+4-size/2, s.Height/2-size/2, size, size)
		left += 16
	}
	room := max(right-left-8, 0)
	value := tr(o.r.line.value())
	natural := float32(paint.TextWidth(value, paint.SemiBold, float64(sizeSmall+1))) + 4*unit
	width := min(natural, room*0.62)
	if s.Width > 100 {
		o.r.value.setLabel(paint.Shorten(value, paint.SemiBold, float64(sizeSmall+1), float64(width-4*unit+1)), false)
	}
	put(o.r.value, right-width, 2, width, s.Height-4)
	o.label.Text = fitText(indented(o.r.line.label), o.label, room-width-6)
	m := o.label.MinSize()
	put(o.label, left, (s.Height-m.Height)/2, m.Width, m.Height)
}

// indented translates a label and keeps the blanks before it.
func indented(label string) string {
	word := strings.TrimLeft(label, " ")
	return label[:len(label)-len(word)] + tr(word)
}

// MinSize is a row.
func (o *midiRowRenderer) MinSize() fyne.Size { return fyne.NewSize(200, midiRowHeight) }

// Refresh follows state and theme. The mark is a ring for a port that is not
// used, a disc for one that is, and in the accent's colour and larger while
// something comes in; what is wrong is written out by the label.
func (o *midiRowRenderer) Refresh() {
	r, p := o.r, o.r.p.b.w.look.colours()
	o.face.FillColor, o.face.StrokeColor, o.face.StrokeWidth = color.Transparent, color.Transparent, 0
	switch {
	case r.here:
		o.face.StrokeColor, o.face.StrokeWidth = p.Accent, 1.5
	case r.over:
		o.face.FillColor = mix(p.Panel, p.Text, 0.06)
	}
	o.label.Color = p.Text
	if !r.line.state.Open && r.line.port != "" {
		o.label.Color = p.Muted
	}
	o.dot.StrokeColor, o.dot.StrokeWidth, o.dot.FillColor = p.Muted, 1.5, color.Transparent
	switch {
	case r.lit():
		o.dot.StrokeColor, o.dot.FillColor = p.Accent, p.Accent
	case r.line.state.Open:
		o.dot.FillColor = p.Muted
	}
	if r.line.port == "" {
		o.dot.StrokeColor, o.dot.FillColor = color.Transparent, color.Transparent
	}
	o.Layout(r.Size())
	canvas.Refresh(r)
}

// Objects are drawn in this order.
func (o *midiRowRenderer) Objects() []fyne.CanvasObject {
	list := []fyne.CanvasObject{o.face, o.dot, o.label, o.r.value}
	if o.r.line.learns() {
		list = append(list, o.r.more)
	}
	return list
}

// Destroy has nothing to free.
func (o *midiRowRenderer) Destroy() {}
