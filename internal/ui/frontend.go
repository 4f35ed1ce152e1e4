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
func (w *Window) FocusPanel(p command.Panel) {
	w.unfold(p)
	if p == command.Console && w.frame.small.least {
		w.session.Say(tooLow)
		return
	}
	w.focusPanel(p)
}

// tooLow is said when the keyboards are asked for in a window without room for them.
const tooLow = "The window is too low for the keyboards; make it higher or the scale smaller."

func (w *Window) focusPanel(p command.Panel) {
	var f fyne.Focusable
	switch p {
	case command.Strip:
		f = w.strip
	case command.Grid:
		f = w.grid
	case command.Bench, command.Reach, command.PassageForm, command.MIDI:
		w.bench.showPage(p)
		f = w.bench
	case command.Console:
		f = w.console
	case command.Handbook:
		f = w.guide
	case command.Transport:
		f = w.top.play
	default:
		return
	}
	if w.win.Canvas().Focused() != f {
		w.win.Canvas().Focus(f)
	}
}

// themeModes are the modes of the commands' themes.
var themeModes = map[command.Theme]themeMode{
	command.ThemeOfSystem: followSystem, command.ThemeDark: alwaysDark, command.ThemeLight: alwaysLight,
}

// SetTheme chooses the colours and remembers them.
func (w *Window) SetTheme(t command.Theme) {
	w.look.mode = themeModes[t]
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
	w.grid.inPlace(w.grid.refit)
}

// ToggleCosts shows what the alternative is charged for, or hides it.
func (w *Window) ToggleCosts() {
	w.bench.note.weighed = !w.bench.note.weighed
	w.bench.showPage(command.Bench)
	w.bench.update()
}

// TurnForm goes to the next or previous part of the passage form.
func (w *Window) TurnForm(by int) {
	w.bench.passage.turn(w.bench.passage.part + by)
}

// ToggleEffects shows the effects beside the drawbars, or hides them, and
// remembers it.
func (w *Window) ToggleEffects() {
	on := !w.console.showsEffects()
	w.prefs.setEffects(on)
	w.session.ShowEffects(on)
	if on {
		w.unfold(command.Console)
	}
}

// Fold hides the bench or the console, or shows it again, and remembers it.
func (w *Window) Fold(p command.Panel) {
	if p != command.Bench && p != command.Console {
		return
	}
	if p == command.Bench && w.frame.small.narrow {
		w.askForBench(!w.bench.root.Visible())
		return
	}
	w.prefs.setFolded(p, !w.prefs.folded(p))
	w.showFolds()
	switch {
	case w.prefs.folded(p):
		w.focusPanel(command.Grid)
	case p == command.Console && w.frame.small.low:
		w.session.Say(tooLow)
	}
}

// askForBench shows the bench in a narrow window, or leaves it out again; what a
// wide window shows stays as it is.
func (w *Window) askForBench(on bool) {
	w.frame.asked = on
	if on {
		w.prefs.setFolded(command.Bench, false)
	}
	w.showFolds()
	if !on {
		w.focusPanel(command.Grid)
	}
}

// showFolds lays the window out for what is folded.
func (w *Window) showFolds() {
	w.frame.bench, w.frame.console = w.prefs.folded(command.Bench), w.prefs.folded(command.Console)
	content := w.win.Content().(*fyne.Container)
	content.Layout.Layout(content.Objects, content.Size())
	w.showFolded()
	w.win.Content().Refresh()
}

// showFolded has the panels show whether they are folded.
func (w *Window) showFolded() {
	w.console.fold(w.frame.console || w.frame.small.low)
	w.status.showFold(w.frame.bench || w.frame.small.narrow && !w.frame.asked)
}

// becomesSmall follows what a small window leaves out. The keyboard never stays
// with a panel that went.
func (w *Window) becomesSmall() {
	w.showFolded()
	if f := w.win.Canvas().Focused(); f == fyne.Focusable(w.bench) && !w.bench.root.Visible() || f == fyne.Focusable(w.console) && w.frame.small.least {
		w.focusPanel(command.Grid)
	}
}

// unfold shows a panel that is about to get the keyboard.
func (w *Window) unfold(p command.Panel) {
	if p == command.Reach || p == command.PassageForm || p == command.MIDI { // pages of the bench's column
		p = command.Bench
	}
	if p == command.Bench && w.frame.covers(w.win.Canvas().Size().Width) {
		w.closeGuide()
	}
	if p == command.Bench && w.frame.small.narrow && !w.frame.asked {
		w.askForBench(true)
	}
	if (p == command.Bench || p == command.Console) && w.prefs.folded(p) {
		w.prefs.setFolded(p, false)
		w.showFolds()
	}
}
