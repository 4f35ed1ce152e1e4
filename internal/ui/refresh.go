package ui

import (
	"fyne.io/fyne/v2"

	"organbook/internal/ui/session"
)

// changed collects what a session says and flushes it once, at the end of this
// turn of the event loop: a command that moves the selection and edits the
// chart repaints each panel once.
func (w *Window) changed(c session.Change) {
	w.pending |= c
	if w.flushing {
		return
	}
	w.flushing = true
	fyne.Do(w.flush)
}

// flush brings every panel up to date that shows something that changed.
func (w *Window) flush() {
	c := w.pending
	w.pending, w.flushing = 0, false
	if c.Has(session.ChartChanged) {
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
	w.top.update()
	w.status.update()
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
	w.console.retint()
	w.strip.Refresh()
	w.grid.retint()
}

// updateTitle shows the file's name and whether there is unsaved work.
func (w *Window) updateTitle() {
	mark := ""
	if w.session.Dirty() {
		mark = " •"
	}
	w.win.SetTitle(w.session.FileTitle() + mark + " — Organbook")
}
