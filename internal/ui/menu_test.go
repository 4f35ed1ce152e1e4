package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
)

// TestKeysStandInAColumn: in every menu, and in those under it, the keys begin
// within a blank of each other, and no title runs into its key.
func TestKeysStandInAColumn(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	width := func(s string) float32 { return fyne.MeasureText(s, sizeText, fyne.TextStyle{}).Width }
	seen := 0
	var check func(name string, m *fyne.Menu)
	check = func(name string, m *fyne.Menu) {
		least, most := float32(1e6), float32(0)
		for _, item := range m.Items {
			if at := strings.LastIndex(item.Label, "   "); at > 0 {
				seen++
				start := width(item.Label[:at+3])
				least, most = min(least, start), max(most, start)
			}
			if strings.Contains(item.Label, keyColumn) {
				t.Errorf("%s: %q is not lined up", name, item.Label)
			}
			if item.ChildMenu != nil {
				check(name+" → "+item.Label, item.ChildMenu)
			}
		}
		if most > 0 && most-least > width(" x")-width("x")+0.5 {
			t.Errorf("%s: keys begin between %.1f and %.1f", name, least, most)
		}
	}
	for _, name := range mainMenus {
		check(name, linedUp(fyne.NewMenu("", w.subMenu(name))))
	}
	if seen < 100 {
		t.Errorf("only %d keys are in menus", seen)
	}
}

// TestKeysAsGermanKeyboardsWriteThem holds what a German window calls keys, and
// that it leaves other words alone.
func TestKeysAsGermanKeyboardsWriteThem(t *testing.T) {
	labels := map[string]string{
		"Ctrl Shift Z": "Strg Umschalt Z", "Ctrl Page ↓": "Strg Bild ↓", "Del": "Entf", "Alt ,": "Alt ,", "F1": "F1", "Space": "Leertaste",
		"Ctrl H": "Strg H", "Home and away": "Home and away", "": "",
	}
	for label := range labels {
		if got := keyAsWritten(label); got != label {
			t.Errorf("in English %q is %q", label, got)
		}
	}
	inGerman(t)
	for label, want := range labels {
		if got := keyAsWritten(label); got != want {
			t.Errorf("in German %q is %q, not %q", label, got, want)
		}
	}
}

// TestMenusStayInTheWindow opens the longest menu of a button at the foot of a
// column, and looks for its first line.
func TestMenusStayInTheWindow(t *testing.T) {
	for _, size := range []fyne.Size{fyne.NewSize(700, 500), fyne.NewSize(1280, 720), fyne.NewSize(1600, 1000)} {
		w := open(t, Options{}, alwaysDark, size)
		w.session.SelectNote(3, false)
		w.bench.note.narrow.Tapped(nil)
		menus := 0
		for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
			if m, ok := o.(*widget.PopUpMenu); ok {
				menus++
				if y := m.Position().Y; y < 0 || y+m.Size().Height > size.Height {
					t.Errorf("%v: the menu reaches from %.0f to %.0f", size, y, y+m.Size().Height)
				}
			}
		}
		if menus != 1 {
			t.Errorf("%v: %d menus", size, menus)
		}
	}
}
