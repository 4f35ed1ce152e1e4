package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/paint"
)

// TestADoubleClickThatScrolls clicks twice on the chords of a system that is cut
// off below: the first click scrolls it into view, and the second must not write
// a note on the row that has come under the pointer.
func TestADoubleClickThatScrolls(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	g := w.grid
	before := w.session.Chart()
	for offset := float32(0); offset < 250; offset += 8 {
		w.run("move.first")
		w.flush()
		g.scroll.Offset.Y, g.first = offset, pointed{}
		at, found := below(w, paint.HitChord)
		if !found {
			continue
		}
		clickAt(w, at)
		if k := g.hitAt(at.AddXY(0, g.scroll.Offset.Y)).Kind; k != paint.HitRow && k != paint.HitNote {
			continue
		}
		clickAt(w, at)
		if w.session.Chart() != before || !g.entry.live {
			t.Errorf("the second click changed the chart or closed the field, at %v scrolled by %v", at, offset)
		}
		return
	}
	t.Fatal("no click on chords brings a row under the pointer")
}

// TestADoubleClickPlaysTheBarItMet, though the first click scrolls.
func TestADoubleClickPlaysTheBarItMet(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	g := w.grid
	at, found := below(w, paint.HitLane)
	for ; !found; at, found = below(w, paint.HitLane) {
		g.scroll.Offset.Y += 4
	}
	offset, bar := g.scroll.Offset.Y, g.hitAt(at.AddXY(0, g.scroll.Offset.Y)).Bar
	for range 2 {
		clickAt(w, at)
	}
	g.DoubleTapped(&fyne.PointEvent{Position: at.AddXY(0, g.scroll.Offset.Y)})
	if g.scroll.Offset.Y == offset {
		t.Fatal("the first click scrolls nothing")
	}
	c := w.session.Chart()
	if caret := c.BarAt(w.session.Selection().Caret); caret != bar {
		t.Errorf("the caret is in bar %d, the click was in bar %d", caret+1, bar+1)
	}
	if g.first.hit.Bar != bar {
		t.Errorf("bar %d plays, the click was in bar %d", g.first.hit.Bar+1, bar+1)
	}
}

// TestADoubleClickOnANumberPlaysItsBar, and a single one chooses the bar.
func TestADoubleClickOnANumberPlaysItsBar(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	g, c := w.grid, w.session.Chart()
	at := fyne.NewPos(float32(g.layout.Bars[2].X)+5, float32(g.layout.Systems[0].Chords.Y)+14)
	clickAt(w, at)
	if b := w.session.Selection().Bars; b != [2]int{2, 3} || g.entry.live {
		t.Errorf("a click on the third number chooses bars %v", b)
	}
	clickAt(w, at)
	g.DoubleTapped(&fyne.PointEvent{Position: at})
	if got, _ := w.session.Cursor(); !sound.playing || got != c.BarStart(2) {
		t.Errorf("a double click on the third number plays from %s: %v", c.PositionText(got), sound.playing)
	}
}

// clickAt clicks at a point of the visible part.
func clickAt(w *Window, at fyne.Position) {
	at = at.AddXY(0, w.grid.scroll.Offset.Y)
	click(w, float64(at.X), float64(at.Y), 0)
	w.flush()
}

// below finds a point of the visible part that has a kind of thing in the second
// system or a later one.
func below(w *Window, kind paint.HitKind) (at fyne.Position, found bool) {
	g := w.grid
	for y := float32(0); y < g.scroll.Size().Height; y += 2 {
		if h := g.hitAt(fyne.NewPos(260, y+g.scroll.Offset.Y)); h.Kind == kind && h.System > 0 {
			return fyne.NewPos(260, y), true
		}
	}
	return at, false
}
