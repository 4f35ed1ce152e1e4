package ui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
)

// The toolkit keeps what was drawn for a minute: a page that is made anew each time
// the handbook is opened would take more memory each time.
func TestAPageIsReadOnWhenTheHandbookOpensAgain(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.Help()
	body := w.guide.shown.body
	w.Help()
	if w.guide.root.Visible() {
		t.Fatal("the handbook is still open")
	}
	w.Help()
	if w.guide.shown.body != body {
		t.Error("the page was made anew")
	}
	w.Help()
	w.win.Resize(fyne.NewSize(1600, 1000))
	w.look.mode = alwaysLight
	w.app.Settings().SetTheme(w.look)
	w.refreshAll()
	if w.guide.shown.body != body {
		t.Error("a page that nobody looks at was made anew")
	}
	w.Help()
	if w.guide.shown.body == body {
		t.Error("the page has the colours from before")
	}
}

// TestOnlyWhatIsInSightOfAPageIsDrawn turns every page from top to end: what is in
// sight is visible, what is not is not, and nothing moves.
func TestOnlyWhatIsInSightOfAPageIsDrawn(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.Help()
	g := w.guide
	for page := range g.pages {
		g.turn(page, 0)
		places := func() (ys []float32) {
			for _, o := range g.shown.sections {
				ys = append(ys, o.Position().Y)
			}
			return ys
		}
		before, hidden := places(), 0
		for end := false; !end; {
			top, bottom := g.scroll.Offset.Y, g.scroll.Offset.Y+g.scroll.Size().Height
			end = bottom >= g.scroll.Content.Size().Height
			for i, o := range g.shown.sections {
				in := o.Position().Y < bottom && o.Position().Y+o.Size().Height > top
				if o.Visible() != in {
					t.Errorf("page %d at %g: section %d is visible: %t", page, top, i, o.Visible())
				}
				if !in {
					hidden++
				}
			}
			g.TypedKey(&fyne.KeyEvent{Name: fyne.KeyPageDown})
			if !end && g.scroll.Offset.Y == top {
				t.Fatalf("page %d does not scroll past %g", page, top)
			}
		}
		if hidden == 0 {
			t.Errorf("page %d hides nothing", page)
		}
		if !slices.Equal(places(), before) {
			t.Errorf("page %d: its sections moved", page)
		}
	}
}
