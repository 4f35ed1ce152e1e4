package ui

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// onScreen is where a key's row of a system stands in the view.
func onScreen(w *Window, system, key int) float64 {
	return w.grid.layout.RowY(system, key) - float64(w.grid.scroll.Offset.Y)
}

func TestRowsStayUnderThePointer(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	s := w.grid.layout.Systems[1]
	start := w.session.Chart().BarStart(s.FirstBar)
	w.session.SetCaret(start)
	before, low, high := onScreen(w, 1, 70), s.Low, s.High
	check := func(what string) {
		t.Helper()
		if got := onScreen(w, 1, 70); math.Abs(got-before) > 1 {
			t.Errorf("%s: the row moved from %.0f to %.0f", what, before, got)
		}
	}
	for _, key := range []int{high + 4, low - 5, high + 2, 70} {
		if err := w.session.PlaceAt(start, key); err != nil {
			t.Fatal(err)
		}
		check("a note")
	}
	if s := w.grid.layout.Systems[1]; s.Low > low-5 || s.High < high+4 {
		t.Errorf("rows from %d to %d were given up while editing", s.Low, s.High)
	}
	w.session.Undo()
	check("undo")
	third := w.session.Chart().BarStart(w.grid.layout.Systems[2].FirstBar)
	w.session.SetCaret(third)
	if s := w.grid.layout.Systems[1]; s.High-s.Low > high-low+8 {
		t.Errorf("after leaving it the system has rows from %d to %d, had %d to %d at first", s.Low, s.High, low, high)
	}
	w.session.Open(project.New(), "")
	if w.grid.still.rows != nil {
		t.Error("another chart keeps the rows of the one before")
	}
}

// hoverAt moves the pointer to a point of the visible part.
func hoverAt(w *Window, at fyne.Position) {
	e := &desktop.MouseEvent{}
	e.Position = at.AddXY(0, w.grid.scroll.Offset.Y)
	w.grid.MouseMoved(e)
}

// rowAt is the row at a height of the visible part.
func rowAt(w *Window, at fyne.Position) paint.Spot {
	return w.grid.layout.SpotAt(float64(at.Y+w.grid.scroll.Offset.Y), false)
}

// TestAClickMovesNoRow enters notes by the mouse anywhere on the rows, in an empty
// chart and in one with blocks, at the top and further down, in windows of every
// height, and moves some of them by keys: the row under the pointer stays.
func TestAClickMovesNoRow(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(1440, 900), fyne.NewSize(1280, 720), fyne.NewSize(1066, 566)} {
		for name, chart := range map[string]*project.Chart{"empty": project.New(), "demo": nil, "long": longChart(t)} {
			t.Run(fmt.Sprint(name, size.Height), func(t *testing.T) { clickAnywhere(t, open(t, Options{Chart: chart}, alwaysDark, size)) })
		}
	}
}

func clickAnywhere(t *testing.T, w *Window) {
	g, r, placed := w.grid, rand.New(rand.NewPCG(1, 2)), 0
	for range 60 {
		view := g.scroll.Size().Height
		if r.IntN(6) == 0 {
			g.MouseOut()
			g.scrollTo(float32(r.IntN(3)) * view / 2)
		}
		at := fyne.NewPos(40+float32(r.IntN(560)), float32(r.IntN(int(view))))
		hoverAt(w, at)
		row, hit := rowAt(w, at), g.hover
		if hit.Kind != paint.HitRow {
			continue
		}
		placed++
		later(time.Minute) // no double click
		clickAt(w, at)
		if n, ok := w.session.Chart().NoteAt(w.session.Selection().Caret); !ok || w.session.Chart().Melody[n].Pitch.Key() != hit.Key {
			t.Fatalf("a click on key %d wrote something else", hit.Key)
		}
		if id := []string{"", "", "note.up", "note.octaveup", "note.octavedown"}[r.IntN(5)]; id != "" {
			w.run(id)
		}
		if got := rowAt(w, at); got != row {
			t.Fatalf("click %d, on key %d at %v: there was %+v, and now %+v", placed, hit.Key, at, row, got)
		}
	}
	if placed < 10 {
		t.Fatalf("only %d clicks met rows", placed)
	}
}

// TestHighNotesOpenNoRowsUnderThePointer writes on the top row of an empty chart
// again and again. As the pointer leaves, rows open above, and the view is where
// it was, with the head of the system.
func TestHighNotesOpenNoRowsUnderThePointer(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1440, 900))
	g := w.grid
	s := g.layout.Systems[0]
	for i := range 8 {
		at := fyne.NewPos(float32(s.Rows.X)+5+float32(i)*float32(g.layout.Bars[0].W/4), float32(s.Rows.Y)+3)
		hoverAt(w, at)
		later(time.Minute)
		clickAt(w, at)
	}
	for i, n := range w.session.Chart().Melody {
		if n.Pitch.Key() != s.High {
			t.Errorf("click %d on key %d wrote %v", i+1, s.High, n.Pitch)
		}
	}
	if len(w.session.Chart().Melody) != 8 || g.scroll.Offset.Y != 0 || g.layout.Systems[0].High != s.High {
		t.Errorf("%d notes, rows up to key %d, scrolled by %v", len(w.session.Chart().Melody), g.layout.Systems[0].High, g.scroll.Offset.Y)
	}
	w.run("note.octaveup")
	if g.layout.Systems[0].High < s.High+12 || g.scroll.Offset.Y == 0 {
		t.Errorf("an octave higher there are rows up to key %d, scrolled by %v", g.layout.Systems[0].High, g.scroll.Offset.Y)
	}
	g.MouseOut()
	if g.layout.Systems[0].High <= s.High+12 || g.scroll.Offset.Y != 0 || g.still.least != 0 {
		t.Errorf("as the pointer has left there are rows up to key %d, scrolled by %v, the content at least %v", g.layout.Systems[0].High, g.scroll.Offset.Y, g.still.least)
	}
}

// TestADroppedNoteIsUnderThePointer drags a note above the rows that there are.
func TestADroppedNoteIsUnderThePointer(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1440, 900))
	g := w.grid
	s := g.layout.Systems[0]
	clickAt(w, fyne.NewPos(float32(s.Rows.X)+5, float32(s.Rows.Y)+3))
	r := g.layout.NoteRect(0)
	pressAt(w, r.X+8, r.CentreY())
	to := float32(r.CentreY() - 5*g.layout.Options.RowHeight)
	dragTo(w, float32(r.X)+8, to)
	g.DragEnd()
	w.flush()
	if got := w.session.Chart().Melody[0].Pitch.Key(); got != s.High+5 {
		t.Fatalf("dragged by five rows the note went from key %d to %d", s.High, got)
	}
	if y := float32(g.layout.NoteRect(0).CentreY()) - g.scroll.Offset.Y; math.Abs(float64(y-to)) > 1 {
		t.Errorf("the note was let go of at %v and stands at %v", to, y)
	}
}

// TestTheKeyboardFollowsTheCaret types notes while the pointer rests on the grid:
// the view is the caret's, and systems are fitted when the caret leaves them.
func TestTheKeyboardFollowsTheCaret(t *testing.T) {
	w := open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 720))
	g := w.grid
	hoverAt(w, fyne.NewPos(200, 100))
	w.FocusPanel(command.Grid)
	w.run("note.place.C")
	if g.aims() {
		t.Error("the caret was moved by a key, and the rows are held for the pointer")
	}
	for range 5 {
		press(w, fyne.KeyDown)
	}
	if !inView(g) {
		t.Error("the caret's system cannot be seen")
	}
	if hoverAt(w, fyne.NewPos(210, 100)); !g.aims() {
		t.Error("the pointer was moved, and the rows are not held for it")
	}
}
