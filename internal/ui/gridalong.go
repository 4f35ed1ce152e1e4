package ui

import (
	"time"

	"fyne.io/fyne/v2"
)

// A drag that comes to the edge of the visible part scrolls on under the
// pointer, the faster the further out it is, as long as it stays there.

const (
	// alongEvery is the time between two steps.
	alongEvery = time.Second / 30
	// alongMargin is how near inside the edge scrolling begins.
	alongMargin float32 = 10
	// alongMost is the longest step; one is a fourth of the way beyond the
	// margin, and at least one unit.
	alongMost float32 = 48
)

// repeatedly does a step again and again on the window's goroutine until it
// returns false. In a test, which is the only clock of its window, nothing goes
// on by itself.
func (w *Window) repeatedly(step func() bool) {
	if w.opts.post != nil {
		return
	}
	go func() {
		for goOn := true; goOn; {
			time.Sleep(alongEvery)
			fyne.DoAndWait(func() { goOn = step() })
		}
	}()
}

// beyond is the next step for a pointer at a place along a view from 0 to size:
// below zero before its start, above behind its end, 0 within.
func beyond(at, size float32) float32 {
	switch out := at - (size - alongMargin); {
	case at < alongMargin:
		return -clamp((alongMargin-at)/4, 1, alongMost)
	case out > 0:
		return clamp(out/4, 1, alongMost)
	}
	return 0
}

// scrollAlong begins to scroll when the drag is at the edge.
func (g *gridView) scrollAlong() {
	if !g.gesture.along && g.stepAlong() != 0 {
		g.gesture.along = true
		g.w.repeatedly(g.scrollOn)
	}
}

// stepAlong is how far the drag would scroll now.
func (g *gridView) stepAlong() float32 {
	view, offset := g.scroll.Size().Height, g.scroll.Offset.Y
	by := beyond(g.gesture.at.Y-offset, view)
	return clamp(offset+by, 0, max(g.MinSize().Height-view, 0)) - offset
}

// scrollOn scrolls one step further, takes the dragged along and reports whether
// there is more.
func (g *gridView) scrollOn() bool {
	q := &g.gesture
	by := float32(0)
	if q.active && q.dragged {
		by = g.stepAlong()
	}
	if by == 0 {
		q.along = false
		return false
	}
	g.scroll.Offset.Y += by
	g.scroll.Refresh()
	g.moved()
	q.at.Y += by
	g.showDrag()
	return true
}
