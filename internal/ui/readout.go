package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// readout is a number with a word under it that opens a menu of what changes
// it.
type readout struct {
	widget.BaseWidget
	w            *Window
	value, label *canvas.Text
	hint         string
	do           func()
}

var (
	_ fyne.Tappable     = (*readout)(nil)
	_ desktop.Hoverable = (*readout)(nil)
)

func newReadout(w *Window, value, label *canvas.Text, hint string, do func()) *readout {
	r := &readout{w: w, value: value, label: label, hint: hint, do: do}
	r.ExtendBaseWidget(r)
	return r
}

// Tapped opens the menu.
func (r *readout) Tapped(*fyne.PointEvent) { r.do() }

// MouseIn says what a click does.
func (r *readout) MouseIn(*desktop.MouseEvent) { r.w.hint(r.hint) }

// MouseMoved does nothing.
func (r *readout) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the hint away.
func (r *readout) MouseOut() { r.w.hint("") }

// CreateRenderer shows the number over the word.
func (r *readout) CreateRenderer() fyne.WidgetRenderer { return &readoutRenderer{r} }

type readoutRenderer struct{ r *readout }

// Layout puts the number on the bar's upper base line and the word on the
// lower one.
func (o *readoutRenderer) Layout(s fyne.Size) {
	move(o.r.value, 0, s.Height/2-23)
	move(o.r.label, 0, s.Height/2+4)
}

// MinSize is that of number and word.
func (o *readoutRenderer) MinSize() fyne.Size {
	return fyne.NewSize(max(o.r.value.MinSize().Width, o.r.label.MinSize().Width), 46)
}

// Refresh lays both out again.
func (o *readoutRenderer) Refresh() { o.Layout(o.r.Size()) }

// Objects are the number and the word.
func (o *readoutRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{o.r.value, o.r.label}
}

// Destroy has nothing to free.
func (o *readoutRenderer) Destroy() {}
