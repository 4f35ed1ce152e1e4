package ui

import (
	"math"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// still keeps the rows of pitch where they are while a chart is edited: a
// system that needs more rows gets them, none loses any, and the view is moved
// so that the rows being worked on stay where they are. The rows are fitted
// anew when the caret leaves the system, and by zoom, a new width or another
// chart.
//
// While the pointer is over the grid it is the row under it that stays, so that
// the next click lands where it is aimed. A click shows nothing new then but its
// note: no system is fitted, none gets a margin above a high note, and none is
// scrolled into view. What has waited for it is done when the pointer leaves.
type still struct {
	// rows are the rows that systems keep, nil after a fresh fit.
	rows []paint.RowRange
	// opened is the session's count when rows were kept.
	opened int
	// bar is the first bar of the caret's system.
	bar int
	// waits tells that margins wait for the pointer to leave, and left that a
	// fresh fit does: the caret has left a system.
	waits, left bool
	// topped tells that the view was at the top before rows opened over the
	// pointer's, and nobody has scrolled since.
	topped bool
	// least is how high the content has to be at least, so that the view can be
	// where it is.
	least float32
}

// aim is the pointer over the grid.
type aim struct {
	// over tells that it is there, and acts that it is doing something.
	over, acts bool
	// at is where in the visible part it was last.
	at fyne.Position
	// caret is where the pointer has put the caret, or where it was since then.
	caret project.Ticks
	// rests tells that something else has moved the caret since the pointer was
	// moved: what is worked on is the caret.
	rests bool
	// drops tells that it lets go of notes, which go where it is.
	drops bool
}

// pointAt takes note of the pointer at a point of the content.
func (g *gridView) pointAt(p fyne.Position) {
	g.aim.over, g.aim.rests, g.aim.drops = true, false, false
	g.aim.at = p.SubtractXY(0, g.scroll.Offset.Y)
}

// act does what the pointer asks for at a point of the content, and takes note of
// where it puts the caret.
func (g *gridView) act(at fyne.Position, do func()) {
	g.pointAt(at)
	g.aim.acts = true
	do()
	g.aim.acts, g.aim.caret = false, g.w.session.Selection().Caret
}

// follow finds out before a change is shown whether the pointer or something else
// has moved the caret.
func (g *gridView) follow() {
	if caret := g.w.session.Selection().Caret; caret != g.aim.caret {
		g.aim.caret, g.aim.rests = caret, !g.aim.acts
	}
}

// aims reports whether the pointer is what the next note is placed by.
func (g *gridView) aims() bool { return g.aim.over && !g.aim.rests }

// leave does what has waited for the pointer to leave the grid.
func (g *gridView) leave() {
	s := g.still
	g.aim.over, g.still.waits, g.still.left, g.still.topped = false, false, false, false
	switch {
	case g.layout == nil:
		return
	case s.left:
		g.holding(g.refit)
	case s.waits:
		g.still.rows = g.layout.RowRanges()
		g.holding(g.relayout)
	}
	if y := float32(g.caretRowY(g.w.session.CaretKey())); s.topped && y < g.scroll.Size().Height {
		g.scrollTo(0)
	}
}

// edited lays the chart out after an edit.
func (g *gridView) edited() {
	opened := g.w.session.Opened()
	if g.layout == nil || g.still.opened != opened {
		g.still = still{opened: opened, bar: -1}
		g.relayout()
		return
	}
	g.still.rows, g.still.waits = g.layout.RowRanges(), g.aim.over
	g.holding(g.relayout)
}

// refit fits the rows of every system to its music.
func (g *gridView) refit() {
	g.still.rows, g.still.left = nil, false
	g.relayout()
}

// holding changes the layout and moves the view with the row under the pointer,
// or else with the caret's rows. A view of the first systems stays at the top as
// long as the caret can be seen from there: their heads would be cut off
// otherwise.
func (g *gridView) holding(change func()) {
	if g.aims() {
		g.holdingPointer(change)
		return
	}
	before, atTop := g.caretRowY(60)-float64(g.scroll.Offset.Y), g.scroll.Offset.Y == 0
	g.still.least = 0
	change()
	if atTop && g.rowInView(g.w.session.CaretKey()) {
		return
	}
	g.scrollTo(float32(g.caretRowY(60) - before))
}

// holdingPointer changes the layout and leaves what is under the pointer there,
// the content made higher if it takes that.
func (g *gridView) holdingPointer(change func()) {
	offset := g.scroll.Offset.Y
	y := float64(offset + g.aim.at.Y)
	spot := g.layout.SpotAt(y, g.aim.drops)
	change()
	moved := float32(math.Round(g.layout.SpotY(spot) - y))
	if offset == 0 && moved > 0 {
		g.still.topped = true
	}
	g.still.least = offset + moved + g.scroll.Size().Height
	g.scrollTo(offset + moved)
}

// caretRowY returns where a key's row stands in the caret's system.
func (g *gridView) caretRowY(key int) float64 { return g.layout.RowY(g.caretSystem(), key) }

func (g *gridView) caretSystem() int {
	system, _ := g.layout.X(min(g.w.session.Selection().Caret, g.layout.Realisation.Chart.Length()-1))
	return system
}

// showCaret scrolls so that the caret's system is visible. Within a system the
// view stays as long as the caret's row can be seen, and under a pointer that
// points at rows it stays in any case.
func (g *gridView) showCaret() {
	if g.layout == nil {
		return
	}
	bar := g.layout.Systems[g.caretSystem()].FirstBar
	if bar == g.still.bar && g.rowInView(g.w.session.CaretKey()) {
		return
	}
	switch aims := g.aims(); {
	case bar == g.still.bar || g.still.rows == nil:
	case aims:
		g.still.left = true
	default:
		g.holding(g.refit)
	}
	g.still.bar = bar
	if !g.aimsAtRows() {
		g.reveal(g.w.session.Selection().Caret, false)
	}
}

// aimsAtRows reports whether the pointer points at rows of pitch.
func (g *gridView) aimsAtRows() bool {
	return g.aims() && g.layout.SpotAt(float64(g.scroll.Offset.Y+g.aim.at.Y), g.aim.drops).Rows()
}

func (g *gridView) rowInView(key int) bool {
	y := float32(g.caretRowY(key)) - g.scroll.Offset.Y
	return y >= 0 && y+float32(g.layout.Options.RowHeight) <= g.scroll.Size().Height
}
