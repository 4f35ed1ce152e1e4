package ui

import (
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

func TestTheGuideLiesCentredOverTheWindow(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1280, Height: 720}, {Width: 1600, Height: 1000}} {
		w := open(t, Options{}, alwaysDark, size)
		w.Help()
		top, ok := w.win.Canvas().Overlays().Top().(*widget.PopUp)
		if !ok {
			t.Fatal("the guide is no dialog of the window")
		}
		at, s := top.Content.Position(), top.Content.Size()
		if left, right := at.X, size.Width-at.X-s.Width; left < 20 || left-right > 2 || right-left > 2 || at.Y < 8 || at.Y+s.Height > size.Height-8 {
			t.Errorf("%v: the guide lies at %v with %v", size, at, s)
		}
		scroll := func() (y float32) {
			walk(top, func(o fyne.CanvasObject) {
				if c, ok := o.(*container.Scroll); ok && c.Visible() {
					y = max(y, c.Offset.Y)
				}
			})
			return y
		}
		press(w, fyne.KeyRight, fyne.KeyPageDown)
		if scroll() == 0 {
			t.Error("Page Down does not turn the page")
		}
		press(w, fyne.KeyEscape)
		if w.win.Canvas().Overlays().Top() != nil {
			t.Error("Escape does not close the guide")
		}
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
		if got := firstFitting(passageLines(p), line, width); got != want {
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
