package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/ui/command"
)

var _ command.Frontend = (*Window)(nil)

// TypeChord opens the chord entry at the caret.
func (w *Window) TypeChord() {
	t := w.session.ChordPlace(w.session.Selection().Caret)
	w.grid.reveal(t, false)
	w.grid.entry.open(t)
}

// FocusPanel gives a panel the keyboard.
func (w *Window) FocusPanel(p command.Panel) { w.focusPanel(p) }

func (w *Window) focusPanel(p command.Panel) {
	var f fyne.Focusable
	switch p {
	case command.Strip:
		f = w.strip
	case command.Grid:
		f = w.grid
	case command.Bench:
		f = w.bench
	case command.Console:
		f = w.console
	case command.Transport:
		f = w.top.play
	default:
		return
	}
	if w.win.Canvas().Focused() != f {
		w.win.Canvas().Focus(f)
	}
}

// ToggleTheme goes from following the system to dark to light.
func (w *Window) ToggleTheme() {
	w.look.mode = w.look.mode.next()
	w.prefs.setTheme(w.look.mode)
	w.app.Settings().SetTheme(w.look)
	w.refreshAll()
	w.session.Say(map[themeMode]string{followSystem: "Colours follow the system.", alwaysDark: "Dark colours.", alwaysLight: "Light colours."}[w.look.mode])
}

// The bounds of the zoom, in steps.
const maxZoom, minZoom = 6, -3

// Zoom changes the grid's scale; both zero is the normal size.
func (w *Window) Zoom(columns, rows int) {
	c, r := w.prefs.zoom()
	if columns == 0 && rows == 0 {
		c, r = 0, 0
	}
	w.prefs.setZoom(min(max(c+columns, minZoom), maxZoom), min(max(r+rows, minZoom), maxZoom))
	w.grid.relayout()
	w.grid.showCaret()
}
