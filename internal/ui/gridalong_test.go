package ui

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/ui/paint"
)

// pressAt presses the left button at a point of the grid's content.
func pressAt(w *Window, x, y float64) *desktop.MouseEvent {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = fyne.NewPos(float32(x), float32(y))
	w.grid.MouseDown(e)
	return e
}

// dragTo drags to a point of what is seen of the grid.
func dragTo(w *Window, x, y float32) {
	d := &fyne.DragEvent{}
	d.Position = fyne.NewPos(x, y+w.grid.scroll.Offset.Y)
	w.grid.Dragged(d)
}

// TestDraggingAtTheEdgeScrolls holds a rubber band, a note and the end of a
// note at the lower edge, and a note at the upper one: the grid scrolls to its
// end under the pointer, and what is dragged comes along.
func TestDraggingAtTheEdgeScrolls(t *testing.T) {
	w := open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 720))
	g := w.grid
	view := g.scroll.Size().Height
	bottom := g.MinSize().Height - view
	hold := func(y float32) int {
		t.Helper()
		dragTo(w, 800, y)
		if !g.gesture.along {
			t.Fatal("the drag at the edge does not scroll")
		}
		steps := 0
		for g.scrollOn() {
			if steps++; steps > 10000 {
				t.Fatal("scrolling does not end")
			}
		}
		return steps
	}
	s := g.layout.Systems[0]
	pressAt(w, s.Rows.X+5, s.Rows.Y+2)
	dragTo(w, 800, view/2)
	if g.gesture.along {
		t.Error("a drag within the view scrolls")
	}
	hold(view + 60)
	if g.scroll.Offset.Y != bottom {
		t.Errorf("scrolled to %v, the end is %v", g.scroll.Offset.Y, bottom)
	}
	g.DragEnd()
	if n, all := len(w.session.SelectedIndexes()), len(w.session.Chart().Melody); n < all/2 {
		t.Errorf("the rubber band over the whole chart has %d of %d notes", n, all)
	}
	last := len(w.session.Chart().Melody) - 1
	w.session.SelectNote(last, false)
	note := w.session.Chart().Melody[last]
	r := g.layout.NoteRect(last)
	pressAt(w, r.X+3, r.CentreY())
	slow := hold(-5)
	if g.scroll.Offset.Y != 0 {
		t.Errorf("scrolled to %v, the start is 0", g.scroll.Offset.Y)
	}
	if g.ghosts[0].Start >= g.layout.Systems[2].End {
		t.Error("the dragged note is left behind")
	}
	g.DragEnd()
	if _, there := w.session.Chart().NoteStarting(note.Start); there {
		t.Error("the note was dropped near the start and is still at the end")
	}
	w.session.SelectNote(0, false)
	g.scroll.Offset.Y = 0
	g.moved()
	r = g.layout.NoteRect(0)
	pressAt(w, r.Right()-1, r.CentreY())
	if g.gesture.hit.Kind != paint.HitNoteEnd {
		t.Fatal("not the end of the note")
	}
	if fast := hold(view + 300); fast >= slow {
		t.Errorf("%d steps far out, %d near the edge", fast, slow)
	}
	if length := g.ghosts[0].Duration; length < 100*project.Whole {
		t.Errorf("the note is drawn %v long only", length)
	}
	g.DragEnd()
}

// TestABorderHeldAtTheEdgeMovesOn drags a border to the end of the strip.
func TestABorderHeldAtTheEdgeMovesOn(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	e := w.strip.edges[0]
	_, end := w.session.Chart().PassageBars(1)
	d := &fyne.DragEvent{Dragged: fyne.Delta{DX: barOfDrag}}
	d.AbsolutePosition.X = 3000
	e.Dragged(d)
	if !e.along {
		t.Fatal("held beyond the strip the border stays")
	}
	for range 200 {
		e.goOn()
	}
	if e.target() != end-1 {
		t.Errorf("the border came to bar %d, the last it can is %d", e.target(), end-1)
	}
	e.Dragged(&fyne.DragEvent{Dragged: fyne.Delta{DX: -2 * barOfDrag}})
	if e.target() >= end-1 {
		t.Error("pulled back the border stays where it is")
	}
	e.DragEnd()
	if e.goOn() {
		t.Error("let go, it goes on")
	}
}
