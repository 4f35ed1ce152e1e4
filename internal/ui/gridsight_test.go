package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// systemAtTop returns the first system of which anything can be seen.
func systemAtTop(g *gridView) int {
	for k, s := range g.layout.Systems {
		if float32(s.Bottom()) > g.scroll.Offset.Y {
			return k
		}
	}
	return -1
}

// inView reports whether the whole of the caret's system can be seen.
func inView(g *gridView) bool {
	s := g.layout.Systems[g.caretSystem()]
	return float32(s.Y) >= g.scroll.Offset.Y && float32(s.Bottom()) <= g.scroll.Offset.Y+g.scroll.Size().Height
}

// TestTheCaretGoesBySystemsAndPages walks through 200 bars downwards and back.
func TestTheCaretGoesBySystemsAndPages(t *testing.T) {
	w := open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 900))
	g := w.grid
	w.FocusPanel(command.Grid)
	w.session.SetCaret(w.session.Chart().BarStart(1))
	w.session.Say("")
	start := w.session.Selection().Caret
	press(w, fyne.KeyDown)
	if got := g.caretSystem(); got != 1 {
		t.Fatalf("the caret stands in system %d after one step down", got)
	}
	if first, bar := g.layout.Systems[1].FirstBar, w.session.Chart().BarAt(w.session.Selection().Caret); bar != first+1 {
		t.Errorf("the caret went from the second bar of a system to bar %d of the next", bar-first+1)
	}
	press(w, fyne.KeyUp, fyne.KeyUp)
	if got := w.session.Selection().Caret; got != start {
		t.Errorf("down and up again leads from %d to %d", start, got)
	}
	pages := 0
	for before := -1; g.caretSystem() != before; pages++ {
		before = g.caretSystem()
		press(w, fyne.KeyPageDown)
		if !inView(g) {
			t.Errorf("page %d: the caret's system %d cannot be seen whole at %v", pages, g.caretSystem(), g.scroll.Offset.Y)
		}
	}
	if systems := len(g.layout.Systems); g.caretSystem() != systems-1 || pages > systems {
		t.Errorf("%d pages lead to system %d of %d", pages, g.caretSystem(), systems)
	}
	for range pages {
		press(w, fyne.KeyPageUp)
	}
	if g.caretSystem() != 0 || g.scroll.Offset.Y != 0 {
		t.Errorf("back at system %d, scrolled to %v", g.caretSystem(), g.scroll.Offset.Y)
	}
	if w.run("extend.pagebelow"); len(w.session.Selection().Notes) < 2 {
		t.Errorf("a page extends the selection to %d notes", len(w.session.Selection().Notes))
	}
}

// TestWhatIsLookedAtStays zooms and resizes while the caret can be seen and while
// something else is looked at.
func TestWhatIsLookedAtStays(t *testing.T) {
	changes := map[string]func(w *Window){
		"wider bars":      func(w *Window) { w.Zoom(3, 0) },
		"narrower bars":   func(w *Window) { w.Zoom(-4, 0) },
		"taller rows":     func(w *Window) { w.Zoom(0, 2) },
		"narrower window": func(w *Window) { w.win.Resize(fyne.NewSize(900, 900)) },
		"lower window":    func(w *Window) { w.win.Resize(fyne.NewSize(1280, 640)) },
	}
	for name, change := range changes {
		w := open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 900))
		g := w.grid
		g.scrollTo(3000)
		before := g.layout.Systems[systemAtTop(g)]
		change(w)
		after := g.layout.Systems[systemAtTop(g)]
		if after.EndBar <= before.FirstBar || after.FirstBar >= before.EndBar {
			t.Errorf("%s: bars %d to %d were at the upper edge, and now %d to %d", name, before.FirstBar+1, before.EndBar, after.FirstBar+1, after.EndBar)
		}

		w = open(t, Options{Chart: longChart(t)}, alwaysDark, fyne.NewSize(1280, 900))
		w.session.SetCaret(w.session.Chart().BarStart(101))
		if w.grid.showCaret(); !inView(w.grid) {
			t.Fatal("the caret cannot be seen")
		}
		if change(w); !inView(w.grid) {
			t.Errorf("%s: the caret's system cannot be seen whole any more", name)
		}
	}
}

// TestTheRubberBandMarksWhatItTouches drags one over the demo's first notes.
func TestTheRubberBandMarksWhatItTouches(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 900))
	g := w.grid
	s := g.layout.Systems[0]
	e := pressAt(w, s.Rows.X+2, s.Rows.Bottom()-2)
	dragTo(w, float32(s.Rows.Right()), float32(s.Rows.Y)+1)
	marked := len(g.state().Selected)
	if got := w.status.hinted; marked < 4 || got == "" || len(w.session.Selection().Notes) > 1 {
		t.Errorf("%d notes are marked while the frame is drawn, and the line says %q", marked, got)
	}
	g.MouseUp(e)
	if got := len(w.session.Selection().Notes); got != marked || len(g.banded) > 0 {
		t.Errorf("%d notes are selected, %d were marked", got, marked)
	}
}

// TestADragSaysWhatItReplaces drags notes of a line onto others.
func TestADragSaysWhatItReplaces(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	g := w.grid
	w.FocusPanel(command.Grid)
	for _, id := range []string{"C", "D", "E", "F", "G"} {
		w.run("note.place." + id)
	}
	quarter := g.layout.NoteRect(1).X - g.layout.NoteRect(0).X
	for _, c := range []struct {
		notes    []int
		quarters float64
		english  string
		german   string
	}{
		{[]int{0}, 6, "to 2.3, C5", "nach 2.3, C5"},
		{[]int{0}, 1, "to 1.2, C5 · in place of 1 note", "nach 1.2, C5 · anstelle von 1 Note"},
		{[]int{1, 0}, 1, "2 notes to 1.2, C5 · in place of 1 note", "2 Noten nach 1.2, C5 · anstelle von 1 Note"},
		{[]int{1, 0}, 3, "2 notes to 1.4, C5 · in place of 2 notes", "2 Noten nach 1.4, C5 · anstelle von 2 Noten"},
	} {
		w.session.SelectNothing()
		for _, i := range c.notes {
			w.session.SelectNote(i, true)
		}
		w.flush()
		r := g.layout.NoteRect(0)
		pressAt(w, r.X+4, r.CentreY())
		dragTo(w, float32(r.X+4+c.quarters*quarter), float32(r.CentreY())-g.scroll.Offset.Y)
		if got := w.status.hinted; got != c.english || tr(got) != c.german {
			t.Errorf("the line says %q (%q), want %q (%q)", got, tr(got), c.english, c.german)
		}
		g.gesture = gesture{}
	}
}
