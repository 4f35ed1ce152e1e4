package ui

import (
	"fmt"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/paint"
)

// edge is the border between two passages' cards. Dragged to the right it lets
// the passage after it start at a later bar, to the left at an earlier one; the
// grid shows where.
type edge struct {
	widget.BaseWidget
	s     *stripView
	index int // the passage that starts here
	moved float32
	at    float32 // where the pointer is in the strip
	held  bool
	along bool // it goes on by itself
	over  bool
	line  *canvas.Rectangle
}

var (
	_ fyne.Draggable     = (*edge)(nil)
	_ desktop.Hoverable  = (*edge)(nil)
	_ desktop.Cursorable = (*edge)(nil)
)

// barOfDrag is how far the pointer goes for one bar.
const barOfDrag float32 = 14

func newEdge(s *stripView, index int) *edge {
	e := &edge{s: s, index: index, line: canvas.NewRectangle(color.Transparent)}
	e.ExtendBaseWidget(e)
	return e
}

// target is the bar at which the passage would start now: at least one bar is
// left to the passage and to the one before.
func (e *edge) target() int {
	passages := e.s.w.session.Chart().Passages
	_, end := e.s.w.session.Chart().PassageBars(e.index)
	return min(max(e.asked(), passages[e.index-1].First+1), end-1)
}

// asked is the bar that the pointer asks for.
func (e *edge) asked() int {
	return e.s.w.session.Chart().Passages[e.index].First + int(math.Round(float64(e.moved/barOfDrag)))
}

// Dragged shows the bar that the border would move to.
func (e *edge) Dragged(d *fyne.DragEvent) {
	e.moved += d.Dragged.DX
	e.at = d.AbsolutePosition.X - fyne.CurrentApp().Driver().AbsolutePositionForObject(e.s).X
	e.held = true
	e.showTarget()
	if !e.along && beyond(e.at, e.s.Size().Width) != 0 {
		e.along = true
		e.s.w.repeatedly(e.goOn)
	}
}

// goOn moves the border on while the pointer is held at the strip's edge, as
// there is no room left to drag it.
func (e *edge) goOn() bool {
	by, to := beyond(e.at, e.s.Size().Width), e.target()
	if !e.held || by == 0 {
		e.along = false
		return false
	}
	e.moved += by
	switch now := e.target(); {
	case now != to:
		e.showTarget()
	case now != e.asked(): // there is no further bar
		e.moved -= by
	}
	return true
}

func (e *edge) showTarget() {
	chart, to := e.s.w.session.Chart(), e.target()
	e.s.w.hint(fmt.Sprintf("%s starts at bar %d", e.s.w.session.PassageQuoted(e.index), chart.BarNumber(to)))
	e.s.w.grid.showBorder(to)
}

// DragEnd moves the border as one edit.
func (e *edge) DragEnd() {
	to := e.target()
	e.moved, e.held = 0, false
	e.s.w.grid.hideBorder()
	e.s.w.hint("")
	if to != e.s.w.session.Chart().Passages[e.index].First {
		e.s.w.grid.say(e.s.w.session.MoveBorder(e.index, to))
	}
}

// Cursor shows that the border can be dragged.
func (e *edge) Cursor() desktop.Cursor { return desktop.HResizeCursor }

// MouseIn lights the border.
func (e *edge) MouseIn(*desktop.MouseEvent) {
	e.over = true
	e.s.w.hint("Drag to move the bar where " + e.s.w.session.PassageQuoted(e.index) + " starts")
	e.Refresh()
}

// MouseMoved does nothing.
func (e *edge) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light away.
func (e *edge) MouseOut() {
	e.over = false
	e.s.w.hint("")
	e.Refresh()
}

// CreateRenderer draws the border as a line that is seen under the pointer.
func (e *edge) CreateRenderer() fyne.WidgetRenderer { return &edgeRenderer{e} }

type edgeRenderer struct{ e *edge }

// Layout centres the line.
func (r *edgeRenderer) Layout(s fyne.Size) { put(r.e.line, s.Width/2-1.5, 8, 3, s.Height-16) }

// MinSize is the gap.
func (r *edgeRenderer) MinSize() fyne.Size { return fyne.NewSize(gap, 10) }

// Refresh follows the pointer.
func (r *edgeRenderer) Refresh() {
	r.e.line.FillColor = color.Transparent
	if r.e.over {
		r.e.line.FillColor = r.e.s.w.look.colours().Accent
	}
	r.e.line.Refresh()
}

// Objects is the line.
func (r *edgeRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.e.line} }

// Destroy has nothing to free.
func (r *edgeRenderer) Destroy() {}

// showBorder marks the start of a bar over its system and brings it into view.
func (g *gridView) showBorder(bar int) {
	t := g.w.session.Chart().BarStart(bar)
	g.reveal(t, false)
	b := g.layout.Bars[bar]
	s := g.layout.Systems[b.System]
	at := paint.Rect{X: b.X - 2, Y: s.Chords.Y, W: 4, H: s.Lanes.Bottom() - s.Chords.Y}
	put(g.band, float32(at.X), float32(at.Y), float32(at.W), float32(at.H))
}

// hideBorder takes the mark away.
func (g *gridView) hideBorder() { away(g.band) }
