package ui

import (
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// gridView is the bar grid: one picture as large as the visible part, moved
// along as the content scrolls, and a few marks on top that move without
// repainting it (playhead, rubber band, the ghost of a drag, the chord entry).
type gridView struct {
	panel
	root   *fyne.Container
	scroll *gridScroll

	layout  *paint.GridLayout
	picture *picture
	hover   paint.Hit

	playhead, head *canvas.Rectangle
	band           *canvas.Rectangle
	ghosts         []paint.Ghost // what a drag would give
	banded         []int         // what the rubber band touches
	empty          *emptyState
	entry          *chordEntry
	gesture        gesture
	first          pointed // of a double click
	still          still
	aim            aim
	lowered        bool // a low window has lower rows than chosen
	cursor         project.Ticks
}

var (
	_ fyne.Widget            = (*gridView)(nil)
	_ fyne.Focusable         = (*gridView)(nil)
	_ fyne.Shortcutable      = (*gridView)(nil)
	_ fyne.Draggable         = (*gridView)(nil)
	_ fyne.DoubleTappable    = (*gridView)(nil)
	_ fyne.SecondaryTappable = (*gridView)(nil)
	_ desktop.Mouseable      = (*gridView)(nil)
	_ desktop.Hoverable      = (*gridView)(nil)
	_ desktop.Cursorable     = (*gridView)(nil)
)

func newGridView(w *Window) *gridView {
	g := &gridView{}
	g.panel.init(w, command.Grid)
	g.picture = newPicture(g.paint)
	for _, r := range []**canvas.Rectangle{&g.playhead, &g.head, &g.band} {
		*r = canvas.NewRectangle(color.Transparent)
		away(*r)
	}
	g.entry = newChordEntry(g)
	g.empty = newEmptyState(w)
	g.ExtendBaseWidget(g)
	g.scroll = newGridScroll(g)
	g.scroll.OnScrolled = func(fyne.Position) { g.moved() }
	g.root = container.New(&ringLayout{fit: g.empty.fit}, g.scroll, g.ring, g.empty.root)
	g.retint()
	return g
}

// ringLayout fills the room with the content, puts a ring around it and, if
// there is one, a third object of the size that fit gives it in the middle.
type ringLayout struct {
	fit func(room fyne.Size) fyne.Size
}

// MinSize is left to the frame.
func (*ringLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(100, 60) }

// Layout places content and ring.
func (l *ringLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put(o[0], 0, 0, s.Width, s.Height)
	put(o[1], -3, -3, s.Width+6, s.Height+6)
	if len(o) > 2 {
		m := l.fit(s)
		put(o[2], (s.Width-m.Width)/2, max(2, s.Height-m.Height-16), m.Width, m.Height)
	}
}

// shows is the realisation on the grid, nil before it is laid out.
func (g *gridView) shows() *arrange.Realisation {
	if g.layout == nil {
		return nil
	}
	return g.layout.Realisation
}

// zoomFactor is what one step of zoom multiplies by.
const zoomFactor = 1.2

// relayout places the chart anew for the current width and zoom. While two takes
// play in turn it shows the one that is heard.
func (g *gridView) relayout() {
	width := g.scroll.Size().Width
	if width < 50 {
		return
	}
	columns, rows := g.w.prefs.zoom()
	o := paint.GridOptions{
		Width:      float64(width) - 8, // the scroll bar's room
		PerQuarter: paint.DefaultPerQuarter * math.Pow(zoomFactor, float64(columns)),
		RowHeight:  math.Round(paint.DefaultRowHeight + float64(rows)),
		Keep:       g.still.rows,
		Tight:      g.aim.over,
		Words:      tr,
	}
	if g.layout != nil && g.still.rows != nil && g.aims() {
		o.RowHeight = g.layout.Options.RowHeight // it would move the rows
	}
	g.layout = paint.LayoutGrid(g.w.session.Sounding(), o)
	g.lowered = false
	if h := g.lowRows(o.RowHeight); g.scroll.Size().Height < ordinaryGrid && rows <= 0 && h < o.RowHeight {
		o.RowHeight, g.lowered = h, true
		g.layout = paint.LayoutGrid(g.w.session.Sounding(), o)
	}
	g.showEmpty()
	g.scroll.Refresh()
	g.moved()
}

// lowestRow is the least height of a row whose notes can be told apart.
const lowestRow = 4.0

// lowRows returns the height of rows at which the tallest system can be seen whole,
// as far as rows go down for it; height is what they are now.
func (g *gridView) lowRows(height float64) float64 {
	view := float64(g.scroll.Size().Height)
	for k := range g.layout.Systems {
		if s := &g.layout.Systems[k]; s.H > view && s.Rows.H > 0 {
			height = min(height, math.Floor(g.layout.Options.RowHeight*(view-s.H+s.Rows.H)/s.Rows.H))
		}
	}
	return max(height, min(lowestRow, g.layout.Options.RowHeight))
}

// showEmpty shows the ways to start over an empty chart, unless it is just
// being played in.
func (g *gridView) showEmpty() {
	g.empty.show(len(g.w.session.Chart().Melody) == 0 && len(g.w.session.Chart().Changes) == 0 && !g.w.session.Recording())
}

// MinSize is the height of all systems.
func (g *gridView) MinSize() fyne.Size {
	g.ExtendBaseWidget(g)
	if g.layout == nil {
		return fyne.NewSize(100, 100)
	}
	return fyne.NewSize(100, max(float32(math.Ceil(g.layout.TotalHeight)), g.still.least))
}

// Resize lays the chart out again when the width changes.
func (g *gridView) Resize(s fyne.Size) {
	old := g.Size()
	g.BaseWidget.Resize(s)
	if s.Width != old.Width || g.layout == nil {
		g.inPlace(g.refit)
	}
	g.moved()
}

// moved puts the picture under the visible part and paints it.
func (g *gridView) moved() {
	if g.layout == nil {
		return
	}
	top := float32(math.Round(float64(g.scroll.Offset.Y)))
	g.picture.place(0, top, g.scroll.Size().Width, g.scroll.Size().Height)
	g.entry.place()
	g.repaint()
}

// repaint paints the visible part again.
func (g *gridView) repaint() { g.picture.invalidate() }

// retint follows the theme.
func (g *gridView) retint() {
	p := g.w.look.colours()
	g.playhead.FillColor, g.head.FillColor = p.Accent, p.Accent
	g.head.CornerRadius = 3
	g.band.FillColor, g.band.StrokeColor, g.band.StrokeWidth = fade(p.Accent, 0.14), p.Accent, 1
	g.drawRing()
	g.entry.retint()
	g.empty.retint()
	g.repaint()
}

// paint draws the visible part of the grid.
func (g *gridView) paint(img *image.RGBA, scale float64) {
	c := paint.NewCanvas(img, scale, 0, float64(g.picture.raster.Position().Y))
	if g.layout == nil {
		c.Clear(g.w.look.colours().Ground)
		return
	}
	g.w.trace.painted()
	paint.PaintGrid(c, g.layout, g.w.look.colours(), g.state())
	g.paintBars(c)
}

// paintBars veils the bars that are chosen as whole bars.
func (g *gridView) paintBars(c *paint.Canvas) {
	sel := g.w.session.Selection()
	for i := sel.Bars[0]; i < min(sel.Bars[1], len(g.layout.Bars)); i++ {
		b := g.layout.Bars[i]
		s := g.layout.Systems[b.System]
		c.FillRect(paint.Rect{X: b.X, Y: s.Chords.Y, W: b.W, H: s.Lanes.Bottom() - s.Chords.Y}, fade(g.w.look.colours().Accent, 0.12))
	}
}

// state is what the picture shows besides the chart.
func (g *gridView) state() *paint.GridState {
	s := g.w.session
	st := &paint.GridState{Selected: map[int]bool{}, Hover: g.hover, Ghosts: g.ghosts}
	for _, i := range s.SelectedIndexes() {
		st.Selected[i] = true
	}
	for _, i := range g.banded {
		st.Selected[i] = true
	}
	passage := s.HeardPassage()
	st.Passage = &passage
	sel := s.Selection()
	if len(sel.Notes) == 0 && sel.Caret < s.Chart().Length() {
		st.Caret = &paint.Caret{At: sel.Caret, Length: s.Entry().Length(), Key: s.CaretKey()}
	}
	if from, to, on := s.Loop(); on && to <= len(s.Chart().Bars) {
		st.LoopStart, st.LoopEnd = s.Chart().BarStart(from), s.Chart().BarStart(to)
	}
	return st
}

// reveal scrolls a position's system into view; on top when what follows is
// about to be read.
func (g *gridView) reveal(t project.Ticks, onTop bool) {
	if g.layout == nil || len(g.layout.Systems) == 0 {
		return
	}
	system, _ := g.layout.X(min(t, g.w.session.Chart().Length()-1))
	s := g.layout.Systems[system]
	top, bottom := float32(s.Y), float32(s.Bottom())
	view, offset := g.scroll.Size().Height, g.scroll.Offset.Y
	switch {
	case top < offset || bottom-top > view:
		offset = top
	case bottom > offset+view && onTop:
		offset = top
	case bottom > offset+view:
		offset = bottom - view
	default:
		return
	}
	g.scrollTo(offset)
}

// showCursor puts the playhead at a position and keeps it in view.
func (g *gridView) showCursor(t project.Ticks) {
	if g.layout == nil {
		return
	}
	g.cursor = t
	_, x, y0, y1 := g.layout.CursorX(t)
	g.reveal(t, true)
	put(g.playhead, float32(x)-1, float32(y0)+4, 2, float32(y1-y0)-4)
	put(g.head, float32(x)-5, float32(y0)+2, 10, 6)
}

// away takes a mark out of sight. A hidden object that is shown does not make
// the toolkit draw the window again; one that is moved does.
func away(r *canvas.Rectangle) { put(r, -100, -100, 1, 1) }

// hideCursor takes the playhead away.
func (g *gridView) hideCursor() {
	away(g.playhead)
	away(g.head)
}

// CreateRenderer shows the picture with the marks on top.
func (g *gridView) CreateRenderer() fyne.WidgetRenderer { return &gridRenderer{g} }

type gridRenderer struct{ g *gridView }

// Layout leaves everything where it was put.
func (r *gridRenderer) Layout(fyne.Size) {}

// MinSize is the grid's.
func (r *gridRenderer) MinSize() fyne.Size { return r.g.MinSize() }

// Refresh repaints nothing by itself.
func (r *gridRenderer) Refresh() {}

// Objects are drawn in this order.
func (r *gridRenderer) Objects() []fyne.CanvasObject {
	g := r.g
	return []fyne.CanvasObject{g.picture.raster, g.band, g.playhead, g.head, g.entry.root}
}

// Destroy has nothing to free.
func (r *gridRenderer) Destroy() {}
