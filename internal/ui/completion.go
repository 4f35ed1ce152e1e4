package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// completion is a line under the chord entry: a symbol that what is typed may go on
// to, and what it means. A click writes it.
type completion struct {
	widget.BaseWidget
	e      *chordEntry
	symbol string
	text   *canvas.Text
	plate  *canvas.Rectangle
}

var (
	_ fyne.Tappable     = (*completion)(nil)
	_ desktop.Mouseable = (*completion)(nil)
)

func newCompletion(e *chordEntry) *completion {
	l := &completion{e: e, text: text("", sizeSmall+1, false, color.White), plate: canvas.NewRectangle(color.Transparent)}
	l.plate.CornerRadius = radiusControl
	l.ExtendBaseWidget(l)
	l.Hide()
	return l
}

// show shows the symbol of the line, raised where the arrows are; a line without one
// is hidden.
func (l *completion) show(found []session.Reading, i int) {
	if i >= len(found) {
		l.Hide()
		return
	}
	p := l.e.g.w.look.colours()
	l.symbol = found[i].Chord.String()
	l.text.Text, l.text.Color, l.plate.FillColor = tr(found[i].Means), p.Muted, color.Transparent
	if i == l.e.chosen {
		l.text.Color, l.plate.FillColor = p.Text, p.Raised
	}
	l.text.Refresh()
	l.plate.Refresh()
	l.Show()
}

// MouseDown takes the symbol before the field loses the keyboard, which writes what
// stands in it.
func (l *completion) MouseDown(*desktop.MouseEvent) { l.e.SetText(l.symbol) }

// MouseUp does nothing.
func (l *completion) MouseUp(*desktop.MouseEvent) {}

// Tapped gives the grid the keyboard again.
func (l *completion) Tapped(*fyne.PointEvent) { l.e.g.w.focusPanel(command.Grid) }

// MinSize is the text's, indented as the line above.
func (l *completion) MinSize() fyne.Size {
	return fyne.NewSize(l.text.MinSize().Width+4*unit, completionHeight)
}

// CreateRenderer shows the text on its plate.
func (l *completion) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.New(&completionLayout{}, l.plate, l.text))
}

type completionLayout struct{}

// MinSize is left to the line.
func (*completionLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

// Layout fills the line with the plate and sets the text in.
func (*completionLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put(o[0], unit/2, 0, s.Width-unit, s.Height)
	m := o[1].MinSize()
	put(o[1], 2*unit, (s.Height-m.Height)/2, s.Width-2*unit, m.Height)
}
