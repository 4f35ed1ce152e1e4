package ui

import "organbook/internal/project"

// sight is what is looked at while the grid is laid out otherwise, by zoom or in a
// window of another size: a position and how far below the upper edge its system
// begins.
type sight struct {
	at    project.Ticks
	below float32
	caret bool
}

// looksAt returns the caret's place if any of its system can be seen, and what
// stands at the upper edge if not.
func (g *gridView) looksAt() sight {
	top := g.scroll.Offset.Y
	if s := g.layout.Systems[g.caretSystem()]; float32(s.Bottom()) > top && float32(s.Y) < top+g.picture.raster.Size().Height {
		return sight{at: g.w.session.Selection().Caret, below: float32(s.Y) - top, caret: true}
	}
	for _, s := range g.layout.Systems {
		if float32(s.Bottom()) > top {
			return sight{at: s.Start, below: float32(s.Y) - top}
		}
	}
	return sight{}
}

// inPlace lays the chart out otherwise and goes on showing what was looked at.
func (g *gridView) inPlace(layOut func()) {
	if g.layout == nil || len(g.layout.Systems) == 0 {
		layOut()
		return
	}
	p := g.looksAt()
	layOut()
	system, _ := g.layout.X(min(p.at, g.layout.Realisation.Chart.Length()-1))
	g.scrollTo(float32(g.layout.Systems[system].Y) - p.below)
	if p.caret {
		g.reveal(p.at, false)
	}
}

// scrollTo puts a height of the content at the upper edge, as far as there is content.
func (g *gridView) scrollTo(y float32) {
	y = clamp(y, 0, max(g.MinSize().Height-g.scroll.Size().Height, 0))
	if y != g.scroll.Offset.Y {
		g.scroll.Offset.Y = y
		g.scroll.Refresh()
		g.moved()
	}
}

// MoveBySystem moves the caret to the system below or above, or by as many as can
// be seen at once, to the same place of the line. A page is turned: the caret's
// system comes to stand where the one before stood.
func (w *Window) MoveBySystem(down, page, extend bool) {
	g := w.grid
	if g.layout == nil || len(g.layout.Systems) == 0 {
		return
	}
	from := g.caretSystem()
	to := from + 1
	if page {
		to = g.pageAfter(from, down)
	} else if !down {
		to = from - 1
	}
	if to == from || to < 0 || to == len(g.layout.Systems) {
		return
	}
	before, s := g.layout.Systems[from], g.layout.Systems[to]
	below := float32(before.Y) - g.scroll.Offset.Y
	_, x := g.layout.X(min(w.session.Selection().Caret, w.session.Chart().Length()-1))
	w.session.MoveTo(g.layout.Hit(x+1, s.Rows.Y).At, extend)
	if page && g.layout != nil {
		g.scrollTo(float32(g.layout.Systems[g.caretSystem()].Y) - below)
		g.reveal(w.session.Selection().Caret, false)
	}
}

// pageAfter returns the system as far from one as systems fit into the view, one at
// least.
func (g *gridView) pageAfter(from int, down bool) int {
	step, room, to := 1, float64(g.scroll.Size().Height), from
	if !down {
		step = -1
	}
	for next := from + step; next >= 0 && next < len(g.layout.Systems); next += step {
		if room -= g.layout.Systems[next].H; room < 0 && to != from {
			break
		}
		to = next
	}
	return to
}
