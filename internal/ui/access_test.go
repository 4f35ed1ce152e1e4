package ui

import (
	"image"
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
)

// TestToolkitColoursCanBeRead holds the pairs that dialogs, menus and our own
// controls show to 4.5:1 for text and 3:1 for marks.
func TestToolkitColoursCanBeRead(t *testing.T) {
	for _, mode := range []themeMode{alwaysDark, alwaysLight} {
		l := newLook(mode, nil)
		of := func(n fyne.ThemeColorName) color.Color { return l.Color(n, 0) }
		overlay := of(theme.ColorNameOverlayBackground)
		check := func(what string, ink, ground color.Color, least float64) {
			if c := contrast(over(ink, ground), ground); c < least {
				t.Errorf("%s: %s has a contrast of %.2f, want %.1f", mode, what, c, least)
			}
		}
		for _, ground := range []fyne.ThemeColorName{theme.ColorNameBackground, theme.ColorNameOverlayBackground, theme.ColorNameMenuBackground, theme.ColorNameInputBackground, theme.ColorNameButton} {
			check("text on "+string(ground), of(theme.ColorNameForeground), of(ground), 4.5)
		}
		check("a placeholder", of(theme.ColorNamePlaceHolder), of(theme.ColorNameInputBackground), 4.5)
		check("a link", of(theme.ColorNameHyperlink), overlay, 4.5)
		check("a main button", of(theme.ColorNameForegroundOnPrimary), of(theme.ColorNamePrimary), 4.5)
		check("chosen text", of(theme.ColorNameForeground), over(of(theme.ColorNameSelection), of(theme.ColorNameInputBackground)), 4.5)
		check("the line with the pointer", of(theme.ColorNameForeground), over(of(theme.ColorNameHover), overlay), 4.5)
		for _, ground := range []fyne.ThemeColorName{theme.ColorNameOverlayBackground, theme.ColorNameInputBackground, theme.ColorNameButton} { // what a ring stands on and beside
			check("the ring of a dialog on "+string(ground), of(theme.ColorNamePrimary), of(ground), 3)
		}
		// The toolkit tells the chosen line of a menu by its ground alone, under the same
		// ink. For 3:1 beside its neighbours and 4.5:1 under the ink, ink and menu would
		// have to be 13.5:1 apart; they are 9.8 and 13.1, and what is read comes first.
		menu := of(theme.ColorNameMenuBackground)
		chosen := over(of(theme.ColorNameFocus), menu)
		check("the chosen line of a menu", of(theme.ColorNameForeground), chosen, 4.5)
		check("the ground of a menu's chosen line", chosen, menu, 1.6)
		check("an error", of(theme.ColorNameError), overlay, 3)
		check("a scroll bar", of(theme.ColorNameScrollBar), of(theme.ColorNameBackground), 3)
		for _, b := range []*button{{}, {on: true}, {primary: true}, {hovered: true}, {hovered: true, on: true}, {focused: true}, {focused: true, primary: true}} {
			b.look = l
			ink := b.ink()
			check("a button's label", ink.label, ink.face, 4.5)
			if b.focused {
				check("the ring of a button", ink.ring, l.colours().Ground, 3)
			}
		}
	}
}

// TestRingsOfDialogsCanBeSeen goes with Tab through dialogs that have every kind of
// control, and compares the pictures with and without the keyboard: along the whole
// edge of the control there must be pixels that differ by 3:1.
func TestRingsOfDialogsCanBeSeen(t *testing.T) {
	if raceDetector {
		t.Skip("it compares pixels, all of one goroutine")
	}
	for _, mode := range []themeMode{alwaysDark, alwaysLight} {
		w := open(t, Options{}, mode, fyne.NewSize(700, 560))
		c := w.win.Canvas()
		kinds := map[string]bool{}
		for _, id := range []string{"reach.player", "file.saveas"} {
			w.run(id)
			c.Unfocus()
			bare := c.Capture()
			seen := map[fyne.Focusable]bool{}
			for {
				c.FocusNext()
				f := c.Focused()
				if f == nil || seen[f] {
					break
				}
				seen[f], kinds[nameOf(f.(fyne.CanvasObject))] = true, true
				o := f.(fyne.CanvasObject)
				if n, least := plainlyDiffering(bare, c.Capture(), o), int(2*(o.Size().Width+o.Size().Height))*8/10; n < least {
					t.Errorf("%s: %s of %s shows that it has the keyboard with %d pixels, want %d", mode, nameOf(o), id, n, least)
				}
			}
			if len(seen) < 3 {
				t.Errorf("%s: Tab comes to %d controls of %s", mode, len(seen), id)
			}
			for c.Overlays().Top() != nil {
				c.Overlays().Remove(c.Overlays().Top())
			}
		}
		for _, kind := range []string{"ui.escButton", "ui.escCheck", "ui.escEntry", "ui.escSelect"} {
			if !kinds[kind] {
				t.Errorf("no %s among %v", kind, kinds)
			}
		}
	}
}

// plainlyDiffering counts the pixels on an object and four around it that differ by a
// contrast of 3:1 between two pictures.
func plainlyDiffering(a, b image.Image, o fyne.CanvasObject) (n int) {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	for y := int(at.Y) - 4; y < int(at.Y+o.Size().Height)+4; y++ {
		for x := int(at.X) - 4; x < int(at.X+o.Size().Width)+4; x++ {
			if p, q := a.At(x, y), b.At(x, y); p != q && contrast(p, q) >= 3 {
				n++
			}
		}
	}
	return n
}

// over lays a colour, which may be transparent, over an opaque one.
func over(c, ground color.Color) color.Color {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	alpha := float64(n.A) / 255
	n.A = 255
	return mix(ground, n, alpha)
}

// TestTabVisitsEverythingVisibly walks round the window with Tab: it comes by
// every control that can be seen, in the order of the panels, and each shows
// that it has the keyboard.
func TestTabVisitsEverythingVisibly(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	canvas := w.win.Canvas()
	canvas.Unfocus()
	bare := pictured(canvas)
	seen := map[fyne.Focusable]int{}
	panel := -1
	for range 300 {
		test.FocusNext(canvas)
		f := canvas.Focused()
		if seen[f] > 0 {
			break
		}
		seen[f] = len(seen) + 1
		if p := w.panelOf(f); p < panel {
			t.Errorf("after panel %d Tab goes back to panel %d (%s)", panel, p, nameOf(f.(fyne.CanvasObject)))
		} else {
			panel = p
		}
		if n := differing(bare, pictured(canvas), 0); n < 40 && !raceDetector {
			t.Errorf("%s shows with %d pixels only that it has the keyboard", nameOf(f.(fyne.CanvasObject)), n)
		}
	}
	walk(w.win.Content(), func(o fyne.CanvasObject) {
		if f, ok := o.(fyne.Focusable); ok && seen[f] == 0 && o.Size().Width > 0 && inWindow(o) {
			if d, ok := o.(fyne.Disableable); !ok || !d.Disabled() {
				t.Errorf("Tab never comes to %s", nameOf(o))
			}
		}
	})
}

// panelOf tells in which panel an object lies, counted from the top.
func (w *Window) panelOf(f fyne.Focusable) int {
	for i, root := range []fyne.CanvasObject{w.top.root, w.strip, w.grid.root, w.status.root, w.bench.root, w.console.root} {
		found := false
		walk(root, func(o fyne.CanvasObject) { found = found || o == f.(fyne.CanvasObject) })
		if found {
			return i
		}
	}
	return -1
}

func inWindow(o fyne.CanvasObject) bool {
	at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
	return at.X >= 0 && at.Y >= 0 && (at.X > 0 || at.Y > 0)
}

// pictured is the picture of a canvas; no race is in painting it on one goroutine.
func pictured(canvas fyne.Canvas) image.Image {
	if raceDetector {
		return image.NewRGBA(image.Rect(0, 0, 1, 1))
	}
	return canvas.Capture()
}
