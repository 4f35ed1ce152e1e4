package ui

import (
	"image/color"
	"math"
	"strconv"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// TestTheHandbookLiesBesideTheGrid: what it describes can be done while it is read.
func TestTheHandbookLiesBesideTheGrid(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1066, Height: 666}, {Width: 1280, Height: 720}, {Width: 1600, Height: 1000}} {
		w := open(t, Options{}, alwaysDark, size)
		w.run("help.guide")
		g := w.guide
		grid := w.grid.root
		if w.win.Canvas().Overlays().Top() != nil || !g.root.Visible() || grid.Position().X+grid.Size().Width > g.root.Position().X || grid.Size().Width < 500 {
			t.Fatalf("%v: the handbook lies at %v, the grid ends at %v", size, g.root.Position(), grid.Position().X+grid.Size().Width)
		}
		if beside := w.bench.root.Visible(); beside != (size.Width >= leastForThree) {
			t.Errorf("%v: the bench is shown: %v", size, beside)
		}
		walk(g.scroll.Content, func(o fyne.CanvasObject) {
			if o.MinSize().Width > g.scroll.Size().Width {
				t.Errorf("%v: %T is %v wide in a column of %v", size, o, o.MinSize().Width, g.scroll.Size().Width)
			}
		})
		press(w, fyne.KeyRight, fyne.KeyPageDown)
		if g.at != 1 || g.scroll.Offset.Y == 0 {
			t.Errorf("page %d at %v after Right and Page Down", g.at, g.scroll.Offset)
		}
		notes := len(w.session.Chart().Melody)
		w.focusPanel(command.Grid)
		w.run("edit.selectall")
		w.run("edit.cut")
		if len(w.session.Chart().Melody) == notes || !g.root.Visible() {
			t.Error("the grid cannot be worked while the handbook is open")
		}
		w.run("help.guide") // to the handbook again
		place := g.scroll.Offset.Y
		press(w, fyne.KeyEscape)
		if g.root.Visible() || !w.bench.root.Visible() || w.win.Canvas().Focused() != fyne.Focusable(w.grid) {
			t.Error("Escape does not give the room back")
		}
		w.run("help.guide")
		if g.at != 1 || g.scroll.Offset.Y != place {
			t.Errorf("opened again at page %d, %v", g.at, g.scroll.Offset.Y)
		}
		w.run("help.guide")
		if g.root.Visible() {
			t.Error("the key does not close it")
		}
	}
}

// TestTheHandbookIsSearchedAndItsKeysAreLinks goes from place to place, and does a
// command by clicking its key.
func TestTheHandbookIsSearchedAndItsKeysAreLinks(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	w.run("help.guide")
	typeRunes(w, "/")
	typeRunes(w, "quintuplet")
	press(w, fyne.KeyReturn)
	g := w.guide
	if !strings.Contains(strings.ToLower(g.pages[g.at].Text), "quintuplet") || g.scroll.Offset.Y == 0 {
		t.Errorf("found page %d at %v", g.at, g.scroll.Offset)
	}
	g.find.SetText("zzz")
	press(w, fyne.KeyReturn)
	if g.said.Text != "not in the handbook" {
		t.Errorf("said %q", g.said.Text)
	}
	press(w, fyne.KeyEscape)
	if w.win.Canvas().Focused() != fyne.Focusable(g) {
		t.Error("Escape in the search does not go back to the page")
	}
	links := 0
	var new func()
	var walkSegments func(list []widget.RichTextSegment)
	walkSegments = func(list []widget.RichTextSegment) {
		for _, s := range list {
			switch s := s.(type) {
			case *widget.ParagraphSegment:
				walkSegments(s.Texts)
			case *widget.ListSegment:
				walkSegments(s.Items)
			case *widget.HyperlinkSegment:
				links++
				if s.Text == "Ctrl N" {
					new = s.OnTapped
				}
			}
		}
	}
	g.turn(0, 0)
	walk(g.scroll.Content, func(o fyne.CanvasObject) {
		if r, ok := o.(*widget.RichText); ok {
			walkSegments(r.Segments)
		}
	})
	if links < 10 || new == nil {
		t.Fatalf("%d links, one to a new chart: %v", links, new != nil)
	}
	if new(); len(w.session.Chart().Melody) != 0 || !g.root.Visible() {
		t.Error("the link does not start a new chart beside the handbook")
	}
}

// TestTheHandbookSearchesWhatItShows finds a line of every part of every page, in
// German as well, and goes round the places that have a word.
func TestTheHandbookSearchesWhatItShows(t *testing.T) {
	inGerman(t)
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	w.run("help.guide")
	g := w.guide
	for _, page := range g.pages {
		for _, part := range handbookParts(page.Text) {
			line := part.caption
			if part.target == "" {
				lines := strings.Split(strings.TrimSpace(part.text), "\n")
				line = lines[len(lines)-1]
			}
			if g.search(line); !strings.Contains(g.said.Text, " / ") {
				t.Errorf("%s: looking for %q it says %q", page.Title, line, g.said.Text)
			}
		}
	}
	g.search("block")
	first, _, _ := strings.Cut(g.said.Text, " / ")
	_, places, _ := strings.Cut(g.said.Text, " / ")
	n, err := strconv.Atoi(places)
	if first != "1" || err != nil || n < 4 {
		t.Fatalf("the first place is %q", g.said.Text)
	}
	pages := map[int]bool{}
	for range n {
		pages[g.at] = true
		g.search("block")
	}
	if g.said.Text != "1 / "+places || len(pages) < 2 {
		t.Errorf("after %d places it is at %q, and it was on pages %v", n, g.said.Text, pages)
	}
}

func TestFoldedPanelsGiveTheirRoomToTheGrid(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	before := w.grid.root.Size()
	w.run("view.bench")
	w.run("view.console")
	after := w.grid.root.Size()
	if after.Width < before.Width+300 || after.Height < before.Height+150 {
		t.Errorf("the grid grows from %v to %v only", before, after)
	}
	if w.bench.root.Visible() || w.console.keys.raster.Visible() || !w.console.legend.raster.Visible() || !w.status.unfold.Visible() {
		t.Error("folded panels show the wrong things")
	}
	if !w.prefs.folded(command.Bench) || !w.prefs.folded(command.Console) {
		t.Error("folds are not remembered")
	}
	w.FocusPanel(command.Bench)
	if !w.bench.root.Visible() {
		t.Error("the keyboard goes to a panel that is folded")
	}
	w.run("view.console")
	if w.grid.root.Size() != before {
		t.Errorf("unfolded the grid is %v, was %v", w.grid.root.Size(), before)
	}
}

func TestAListOfChoicesStartsAtTheOneInForce(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	c := choice([]string{"one", "two", "three", "four"}, func(s string) string { return s }, "two")
	w.win.SetContent(c)
	w.win.Canvas().Focus(c)
	press(w, fyne.KeySpace, fyne.KeyReturn)
	if c.Selected != "two" {
		t.Errorf("Space and Enter choose %s", c.Selected)
	}
	press(w, fyne.KeyDown, fyne.KeyDown, fyne.KeyReturn)
	if c.Selected != "three" {
		t.Errorf("one step down is %s", c.Selected)
	}
}

// luminance and contrast are those of the web's accessibility guidelines.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	sum := 0.0
	for i, v := range []uint32{r, g, b} {
		x := float64(v) / 0xFFFF
		if x <= 0.04045 {
			x /= 12.92
		} else {
			x = math.Pow((x+0.055)/1.055, 2.4)
		}
		sum += x * []float64{0.2126, 0.7152, 0.0722}[i]
	}
	return sum
}

func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestFramesOfControlsCanBeSeen(t *testing.T) {
	for _, mode := range []themeMode{alwaysDark, alwaysLight} {
		l := newLook(mode, nil)
		dialog := l.Color(theme.ColorNameOverlayBackground, 0)
		if c := contrast(l.Color(theme.ColorNameInputBorder, 0), dialog); c < 3 {
			t.Errorf("%s: the frame of an empty check box has a contrast of %.1f", mode, c)
		}
	}
}

func TestNarrowTextsKeepWhatMatters(t *testing.T) {
	p := project.Passage{Plan: project.TwoHandBlock, Treatment: project.Treatment{Voicing: theory.Drop24, TwoFiveAsFive: true}}
	line := text("", sizeSmall, false, color.Black)
	for width, want := range map[float32]string{400: "drop 2 and 4 · two-hand block · ii–V as V", 160: "drop 2 and 4 · two-hand block", 120: "drop 2+4 · two-hand"} {
		if got := firstFitting(treatmentLines(p), line, width); got != want {
			t.Errorf("in %v: %q, want %q", width, got, want)
		}
	}
}

// TestClicksBesideTheGridMissIt: when the grid is scrolled its hidden part lies
// under the cards.
func TestClicksBesideTheGridMissIt(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.session.SelectPassageAt(3)
	if w.grid.scroll.Offset.Y < 200 {
		t.Fatal("the grid is not scrolled")
	}
	before := w.session.Selection()
	test.TapCanvas(w.win.Canvas(), fyne.NewPos(w.strip.Position().X+300, w.strip.Position().Y+20))
	if after := w.session.Selection(); after.Caret != before.Caret && w.session.CurrentPassage() == 3 {
		t.Error("a click on a card moved the caret of the grid")
	}
	if _, ok := any(w.grid).(fyne.Scrollable); ok {
		t.Error("the toolkit would not cut the grid off where it is hidden")
	}
}

// TestASmallWindowShowsAWholeSystem opens the window at small sizes in both
// languages: the first system of the demo is seen with its lanes, nothing leaves the
// window, and growing it gives everything back as it was.
func TestASmallWindowShowsAWholeSystem(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 800))
	inGerman(t)
	for _, code := range []string{"en", "de"} {
		w.run("language." + code)
		grid, rows := w.grid.root.Size(), w.grid.layout.Options.RowHeight
		for _, size := range []fyne.Size{{Width: 640, Height: 400}, {Width: 700, Height: 500}, {Width: 700, Height: 900}, {Width: 900, Height: 480}, {Width: 1500, Height: 440}} {
			w.win.Resize(size)
			s, view := w.grid.layout.Systems[0], w.grid.scroll.Size().Height
			if float32(s.Lanes.Bottom()) > view {
				t.Errorf("%s, %v: the lanes end at %g, %g are seen", code, size, s.Lanes.Bottom(), view)
			}
			if w.grid.layout.Options.RowHeight < lowestRow {
				t.Errorf("%s, %v: rows of %g", code, size, w.grid.layout.Options.RowHeight)
			}
		}
		w.win.Resize(fyne.NewSize(1280, 800))
		if w.grid.root.Size() != grid || w.grid.layout.Options.RowHeight != rows || !w.bench.root.Visible() || !w.console.keys.raster.Visible() {
			t.Errorf("%s: grown again, the grid is %v with rows of %g, was %v with %g", code, w.grid.root.Size(), w.grid.layout.Options.RowHeight, grid, rows)
		}
	}
}

// TestTheBenchOfANarrowWindowComesWhenAsked asks for it by key, folds it again and
// grows the window: what is folded in a wide one is not touched.
func TestTheBenchOfANarrowWindowComesWhenAsked(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 800))
	w.focusPanel(command.Bench)
	w.win.Resize(fyne.NewSize(700, 500))
	if w.bench.root.Visible() || !w.status.unfold.Visible() || w.win.Canvas().Focused() != fyne.Focusable(w.grid) {
		t.Error("the bench stays in a narrow window, or takes the keyboard away with it")
	}
	w.run("focus.bench")
	if !w.bench.root.Visible() || w.status.unfold.Visible() || w.win.Canvas().Focused() != fyne.Focusable(w.bench) {
		t.Error("asked for, the bench does not come")
	}
	w.run("view.bench")
	if w.bench.root.Visible() || !w.status.unfold.Visible() {
		t.Error("the bench does not go again")
	}
	w.run("view.bench")
	if !w.bench.root.Visible() {
		t.Error("the bench does not come again")
	}
	w.win.Resize(fyne.NewSize(1280, 800))
	w.win.Resize(fyne.NewSize(700, 500))
	if w.bench.root.Visible() {
		t.Error("the bench asked for before is there after the window has been wide")
	}
	w.win.Resize(fyne.NewSize(640, 400))
	w.run("focus.console")
	if w.console.root.Visible() || w.session.Message() != tooLow || w.win.Canvas().Focused() != fyne.Focusable(w.grid) {
		t.Errorf("the console of the least window: %q", w.session.Message())
	}
	w.win.Resize(fyne.NewSize(1280, 800))
	if !w.bench.root.Visible() || !w.console.root.Visible() || w.prefs.folded(command.Bench) || w.prefs.folded(command.Console) {
		t.Error("a small window folds what a wide one shows")
	}
}
