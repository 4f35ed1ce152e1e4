package ui

import "organbook/internal/ui/paint"

// still keeps the rows of pitch where they are while a chart is edited: a
// system that needs more rows gets them, none loses any, and the view is moved
// so that the row under the pointer stays under it. The rows are fitted anew
// when the caret leaves the system, and by zoom, a new width or another chart.
type still struct {
	// rows are the rows that systems keep, nil after a fresh fit.
	rows []paint.RowRange
	// opened is the session's count when rows were kept.
	opened int
	// bar is the first bar of the caret's system.
	bar int
}

// edited lays the chart out after an edit.
func (g *gridView) edited() {
	opened := g.w.session.Opened()
	if g.layout == nil || g.still.opened != opened {
		g.still = still{opened: opened, bar: -1}
		g.relayout()
		return
	}
	g.still.rows = g.layout.RowRanges()
	g.holding(g.relayout)
}

// refit fits the rows of every system to its music.
func (g *gridView) refit() {
	g.still.rows = nil
	g.relayout()
}

// holding changes the layout and moves the view with the caret's rows. A view of
// the first systems stays at the top as long as the caret can be seen from
// there: their heads would be cut off otherwise.
func (g *gridView) holding(change func()) {
	before, atTop := g.caretRowY(60)-float64(g.scroll.Offset.Y), g.scroll.Offset.Y == 0
	change()
	if atTop && g.rowInView(g.w.session.CaretKey()) {
		return
	}
	g.scrollTo(float32(g.caretRowY(60) - before))
}

// caretRowY returns where a key's row stands in the caret's system.
func (g *gridView) caretRowY(key int) float64 { return g.layout.RowY(g.caretSystem(), key) }

func (g *gridView) caretSystem() int {
	system, _ := g.layout.X(min(g.w.session.Selection().Caret, g.layout.Realisation.Chart.Length()-1))
	return system
}

// showCaret scrolls so that the caret's system is visible. Within a system the
// view stays as long as the caret's row can be seen.
func (g *gridView) showCaret() {
	if g.layout == nil {
		return
	}
	bar := g.layout.Systems[g.caretSystem()].FirstBar
	if bar == g.still.bar && g.rowInView(g.w.session.CaretKey()) {
		return
	}
	if bar != g.still.bar && g.still.rows != nil {
		g.holding(g.refit)
	}
	g.still.bar = bar
	g.reveal(g.w.session.Selection().Caret, false)
}

func (g *gridView) rowInView(key int) bool {
	y := float32(g.caretRowY(key)) - g.scroll.Offset.Y
	return y >= 0 && y+float32(g.layout.Options.RowHeight) <= g.scroll.Size().Height
}
