package ui

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// mainMenus are the menus of the menu button, in order; choices
// stand in menus of their own under them.
var (
	mainMenus = []string{"File", "Edit", "Note", "Length", "Chord", "Bar", "Passage", "Take", "Bench", "Reach", "Play", "View", "Help"}
	subMenus  = map[string][]string{"Passage": append(slices.Clone(ofPassage), "Rotary speaker", "Console", "Accent", "Vibrato, upper", "Vibrato, lower", "Vibrato, pedal"), "Bench": {"Pin"}, "Play": {"Layers"}, "Bar": {"Signs and jumps"}}
	ofPassage = []string{"Voicing", "Hand plan", "Bass", "Registration", "Treatment", "Borrow", "Dominants", "Lean", "Families"}
)

// showMenu opens the main menu under a button.
func (w *Window) showMenu(under *button) {
	var items []*fyne.MenuItem
	for _, name := range mainMenus {
		item := fyne.NewMenuItem(name, nil)
		item.ChildMenu = w.menu(name)
		for _, choice := range subMenus[name] {
			sub := fyne.NewMenuItem(choice, nil)
			sub.ChildMenu = w.menu(choice)
			item.ChildMenu.Items = append(item.ChildMenu.Items, sub)
		}
		items = append(items, item)
	}
	at := w.app.Driver().AbsolutePositionForObject(under).Add(fyne.NewPos(0, under.Size().Height+2))
	widget.ShowPopUpMenuAtPosition(fyne.NewMenu("", items...), w.win.Canvas(), at)
}

// menu makes a menu of the commands that belong to it, without those that are
// nothing but typing.
func (w *Window) menu(name string) *fyne.Menu {
	var items []*fyne.MenuItem
	for _, c := range w.commands.InMenu(name) {
		if !isTyping(c) {
			items = append(items, w.menuItem(c, name))
		}
	}
	return fyne.NewMenu(name, items...)
}

func (w *Window) menuItem(c *command.Command, menu string) *fyne.MenuItem {
	title := c.Title
	if len(title) > len(menu)+2 && title[:len(menu)+2] == menu+": " {
		title = title[len(menu)+2:]
	}
	if k := c.Key(); k != "" {
		title += "    " + k
	}
	item := fyne.NewMenuItem(title, func() { w.do(c) })
	item.Disabled = !c.Enabled(w.session)
	return item
}

// showContextMenu opens several menus under each other at the pointer; what
// does not apply there is left out.
func (w *Window) showContextMenu(menus []string, at fyne.Position) {
	widget.ShowPopUpMenuAtPosition(w.contextMenu(menus), w.win.Canvas(), at)
}

func (w *Window) contextMenu(menus []string) *fyne.Menu {
	var items []*fyne.MenuItem
	for i, name := range menus {
		if isSubMenu(name) || name == "Take" {
			sub := fyne.NewMenuItem(name, nil)
			sub.ChildMenu = w.menu(name)
			items = append(items, sub)
			continue
		}
		if i > 0 {
			items = append(items, fyne.NewMenuItemSeparator())
		}
		for _, c := range w.commands.InMenu(name) {
			if c.Enabled(w.session) && !isTyping(c) {
				items = append(items, w.menuItem(c, name))
			}
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
func (w *Window) showCommands(menu string, under fyne.CanvasObject) {
	at := w.app.Driver().AbsolutePositionForObject(under).Add(fyne.NewPos(0, under.Size().Height+2))
	m := w.menu(menu)
	size := widget.NewMenu(m).MinSize()
	if at.Y+size.Height > w.win.Canvas().Size().Height {
		at.Y -= size.Height + under.Size().Height + 4
	}
	widget.ShowPopUpMenuAtPosition(m, w.win.Canvas(), at)
}

// effectMenus are the settings of a registration beside drawbars, speaker and
// swell.
var effectMenus = []string{"Accent", "Vibrato, upper", "Vibrato, lower", "Vibrato, pedal", "Console"}

// showEffects opens the effects of the heard registration under a button.
func (w *Window) showEffects(under *button) {
	at := w.app.Driver().AbsolutePositionForObject(under)
	w.showContextMenu(effectMenus, at.AddXY(0, -float32(len(effectMenus))*36))
}
