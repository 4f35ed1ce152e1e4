package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// changed collects what a session says and flushes it once, at the end of the
// command or else of this turn of the event loop: a command that moves the
// selection and edits the chart repaints each panel once.
func (w *Window) changed(c session.Change) {
	w.pending |= c
	if w.flushing || w.doing {
		return
	}
	w.flushing = true
	fyne.Do(w.flush)
}

// flush brings every panel up to date that shows something that changed.
func (w *Window) flush() {
	c := w.pending
	w.pending, w.flushing = 0, false
	if c == 0 {
		return // a command has done it
	}
	w.grid.follow()
	if c.Has(session.ChartChanged) || c.Has(session.TransportChanged) && w.grid.shows() != w.session.Sounding() {
		w.grid.edited()
	}
	if c.Has(session.ChartChanged | session.SelectionChanged | session.EntryChanged | session.TransportChanged) {
		w.grid.repaint()
		w.strip.update()
	}
	if c.Has(session.SelectionChanged) && !w.session.Playing() {
		w.grid.showCaret()
	}
	if c.Has(session.ChartChanged | session.SelectionChanged) {
		w.bench.update()
		w.console.update()
	}
	if c.Has(session.TransportChanged) && w.bench.page == command.PassageForm {
		w.bench.update() // comparing offers changing over
	}
	if c.Has(session.TransportChanged) {
		w.grid.showEmpty()
		w.console.updateLayers()
		w.prefs.setClickLevel(w.session.ClickLevel())
	}
	if c.Has(session.EntryChanged) {
		w.prefs.setGrid(w.session.Grid())
		w.prefs.setAdds(w.session.Adds())
	}
	if c.Has(session.KeysChanged) {
		w.showKeys()
	}
	if c.Has(session.ChartChanged | session.SelectionChanged | session.TransportChanged) {
		w.session.ReadyStops()
		w.keyboards.draw()
	}
	w.top.update()
	w.status.update()
	if w.list != nil {
		w.list.enable()
	}
	if c.Has(session.MessageChanged) && w.list != nil {
		w.list.say(w.session.Message())
	}
	if c.Has(session.FileChanged | session.ChartChanged) {
		w.updateTitle()
	}
	w.startTicking()
}

// refreshAll repaints everything, as after a change of theme.
func (w *Window) refreshAll() {
	w.pending = 0xFF
	w.flush()
	w.top.retint()
	w.status.retint()
	w.bench.retint()
	w.guide.retint()
	w.console.retint()
	w.strip.Refresh()
	for _, l := range w.lines {
		l.FillColor = w.look.colours().Line
		l.Refresh()
	}
	w.grid.retint()
}

// updateTitle shows the file's name and whether there is unsaved work.
func (w *Window) updateTitle() {
	mark := ""
	if w.session.Dirty() {
		mark = " •"
	}
	title := w.session.FileTitle()
	if title == session.Untitled {
		title = tr(title)
	}
	w.win.SetTitle(title + mark + " — Organbook")
}
