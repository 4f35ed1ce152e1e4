package ui

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
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

// TestLinesPartTheGroupsOfMenus: every group has a command to begin with, which does
// not come first in its menu; long menus are parted, and no line stands at an end of a
// menu or under another one.
func TestLinesPartTheGroupsOfMenus(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for i, id := range groupStarts {
		c := w.commands.Find(id)
		if c == nil {
			t.Errorf("no command begins the group %s", id)
			continue
		}
		first := c.Menu != command.OwnMenu && w.commands.InMenu(c.Menu)[0] == c // the user's own come before
		if first || slices.Contains(groupStarts[:i], id) {
			t.Errorf("%s begins its menu, or is listed twice", id)
		}
	}
	var check func(name string, m *fyne.Menu)
	check = func(name string, m *fyne.Menu) {
		lines, run, longest := 0, 0, 0
		for i, item := range m.Items {
			run++
			if item.IsSeparator {
				if i == 0 || i == len(m.Items)-1 || m.Items[i-1].IsSeparator {
					t.Errorf("%s: a line at %d of %d parts nothing", name, i, len(m.Items))
				}
				lines, run = lines+1, 0
			}
			if longest = max(longest, run); item.ChildMenu != nil {
				check(name+" → "+item.Label, item.ChildMenu)
			}
		}
		if longest > 13 && lines == 0 {
			t.Errorf("%s has %d commands in a row", name, longest)
		}
	}
	for _, name := range mainMenus {
		check(name, fyne.NewMenu("", w.subMenu(name)))
	}
	w.session.SelectNote(2, false)
	for _, menus := range [][]string{passageMenus(), noteMenus, {"Edit", "Bar"}, {"Chord", "Bar"}} {
		check(strings.Join(menus, "+"), w.contextMenu(menus))
	}
	check("registrations", w.registrationsMenu())
	for menu, want := range map[string][]string{
		"List only": {"major family", "within reach", "List all alternatives again"}, "Pin": {"take it out"}, "Layers": {"Hear all layers"},
	} {
		var after []string
		items := w.menu(menu).Items
		for i, item := range items[:len(items)-1] {
			if item.IsSeparator {
				title, _, _ := strings.Cut(items[i+1].Label, keyColumn)
				after = append(after, title)
			}
		}
		if !slices.Equal(after, want) {
			t.Errorf("in the menu %s lines stand over %q, want %q", menu, after, want)
		}
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
