package ui

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// mainMenus are the menus of the menu button, in order; choices
// stand in menus of their own under them.
var (
	mainMenus = []string{"File", "Edit", "Note", "Length", "Chord", "Bar", "Passage", "Take", "Bench", "Reach", "Play", "Keyboards", "View", "Help"}
	subMenus  = map[string][]string{
		"Bar": {"Signs and jumps"}, "Bench": {"Pin", "Finger", "List only"}, "Play": {"Tempo", "Layers", "Instrument", "Sound buffer"},
		"Note": {"Pitch", "Time", "Divide"}, "Length": {"Eighths"},
		"Keyboards":    {"How recordings are written"},
		"View":         {"Language"},
		"Passage":      ofPassage,
		"Treatment":    {"Voicing", "Borrow", "Dominants", "Lean", "Families", "Range of blocks", "Reach counts"},
		"Registration": {"Rotary speaker", "Accent", "Vibrato, upper", "Vibrato, lower", "Vibrato, pedal", "Console"},
	}
	ofPassage = []string{"Template", "Treatment", "Hand plan", "Bass", "Registration", "Own registrations", "Passage form"}
)

// showMenu opens the main menu under a button.
func (w *Window) showMenu(under *button) {
	var items []*fyne.MenuItem
	for _, name := range mainMenus {
		items = append(items, w.subMenu(name))
	}
	at := w.app.Driver().AbsolutePositionForObject(under).Add(fyne.NewPos(0, under.Size().Height+2))
	widget.ShowPopUpMenuAtPosition(linedUp(fyne.NewMenu("", items...)), w.win.Canvas(), at)
}

// keyColumn stands between the title and the key in a menu's line until the
// menu is shown.
const keyColumn = "\t"

// linedUp writes the keys of a menu, and of those under it, in a column behind
// the longest title. Blanks do it, since the toolkit's own column for shortcuts
// knows keys with a modifier alone and prints them at a fifth of the contrast.
func linedUp(m *fyne.Menu) *fyne.Menu {
	wide := func(s string) float32 { return fyne.MeasureText(s, sizeText, fyne.TextStyle{}).Width }
	column, blank := float32(0), wide("  .")-wide(" .")
	for _, item := range m.Items {
		if title, _, ok := strings.Cut(item.Label, keyColumn); ok {
			column = max(column, wide(title))
		}
	}
	for _, item := range m.Items {
		if title, key, ok := strings.Cut(item.Label, keyColumn); ok {
			item.Label = title + strings.Repeat(" ", int(math.Round(float64((column-wide(title))/blank)))+6) + key
		}
		if item.ChildMenu != nil {
			linedUp(item.ChildMenu)
		}
	}
	return m
}

// subMenu is a line that opens a menu, with the menus that stand under it.
func (w *Window) subMenu(name string) *fyne.MenuItem {
	item := fyne.NewMenuItem(tr(name), nil)
	item.ChildMenu = w.menu(name)
	if len(subMenus[name]) > 0 && len(item.ChildMenu.Items) > 0 {
		item.ChildMenu.Items = append(item.ChildMenu.Items, fyne.NewMenuItemSeparator())
	}
	for _, choice := range subMenus[name] {
		item.ChildMenu.Items = append(item.ChildMenu.Items, w.subMenu(choice))
	}
	return item
}

// menu makes a menu of the commands that belong to it, without those that are
// nothing but typing.
func (w *Window) menu(name string) *fyne.Menu {
	own := 0
	return fyne.NewMenu(name, w.menuLines(name, func(c *command.Command) bool {
		if strings.HasPrefix(c.ID, command.OwnRegistrationID("")) {
			own++
			return own <= maxMenuRegistrations
		}
		return !isTyping(c)
	})...)
}

func (w *Window) menuItem(c *command.Command, menu string) *fyne.MenuItem {
	title := c.Title
	if len(title) > len(menu)+2 && title[:len(menu)+2] == menu+": " {
		title = title[len(menu)+2:]
	}
	title = tr(title)
	if now := w.chosenBuffers(); now != "" && c.ID == bufferings[command.BuffersAutomatic].command {
		title = tr(fmt.Sprintf("automatic (now %s)", tr(now)))
	}
	if k := c.Key(); k != "" {
		title += keyColumn + keyAsWritten(k)
	}
	item := fyne.NewMenuItem(title, func() { w.do(c) })
	item.Checked = w.inForce(c)
	item.Disabled = !c.Enabled(w.session) && !item.Checked // a choice that is made is no less legible
	return item
}

// inForce reports whether what a command chooses or turns on is in force: in the
// session or among what the window keeps itself.
func (w *Window) inForce(c *command.Command) bool {
	switch c.ID {
	case bufferings[w.prefs.buffers()].command, "view." + string(w.look.mode), "language." + cmp.Or(w.prefs.language(), "system"):
		return true
	case "view.motion":
		return w.prefs.lessMotion()
	case "console.effects":
		return w.session.EffectsShown()
	case "bench.costs":
		return w.bench.note.weighed
	case "keys.letters":
		return w.keyboards.letters.on
	}
	return c.InForce(w.session)
}

// showContextMenu opens several menus under each other at the pointer; what
// does not apply there is left out.
func (w *Window) showContextMenu(menus []string, at fyne.Position) {
	widget.ShowPopUpMenuAtPosition(linedUp(w.contextMenu(menus)), w.win.Canvas(), at)
}

func (w *Window) contextMenu(menus []string) *fyne.Menu {
	var items []*fyne.MenuItem
	afterSub := false
	for _, name := range menus {
		sub := isSubMenu(name) || name == "Take" || name == "Length" && len(menus) > 1
		var part []*fyne.MenuItem
		if sub {
			part = append(part, w.subMenu(name))
		} else {
			part = w.menuLines(name, func(c *command.Command) bool { return c.Enabled(w.session) && !isTyping(c) })
		}
		if len(items) > 0 && len(part) > 0 && !(sub && afterSub) {
			items = append(items, fyne.NewMenuItemSeparator())
		}
		if len(part) > 0 {
			items, afterSub = append(items, part...), sub
		}
	}
	return fyne.NewMenu("", items...)
}

// isSubMenu reports whether a menu stands under another one.
func isSubMenu(name string) bool {
	for _, under := range subMenus {
		if slices.Contains(under, name) {
			return true
		}
	}
	return false
}

// isTyping reports whether a command only makes sense at a key: writing a
// letter. Such commands would crowd a menu at the pointer.
func isTyping(c *command.Command) bool {
	return len(c.ID) > 11 && c.ID[:11] == "note.place."
}

// showCommands opens one menu under a button.
func (w *Window) showCommands(menu string, under fyne.CanvasObject, more ...string) {
	m := w.menu(menu)
	for _, id := range more {
		if c := w.commands.Find(id); c != nil {
			m.Items = append(m.Items, w.menuItem(c, menu))
		}
	}
	w.showUnder(m, under)
}

// showUnder opens a menu under a button, or over it where there is no room.
func (w *Window) showUnder(m *fyne.Menu, under fyne.CanvasObject) {
	at := w.app.Driver().AbsolutePositionForObject(under).Add(fyne.NewPos(0, under.Size().Height+2))
	size := widget.NewMenu(linedUp(m)).MinSize()
	if at.Y+size.Height > w.win.Canvas().Size().Height {
		at.Y = max(0, at.Y-size.Height-under.Size().Height-4) // over the button, too, rather than cut off
	}
	widget.ShowPopUpMenuAtPosition(m, w.win.Canvas(), at)
}
