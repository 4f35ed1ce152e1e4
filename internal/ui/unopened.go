package ui

import (
	"path/filepath"

	"organbook/internal/exchange/chartfile"
	"organbook/internal/ui/session"
)

// showUnopened says why a file could not be opened and what can be done: open the
// version before, where saving has kept one that can be read, or another file.
func (w *Window) showUnopened(path string, err error) {
	q := question{
		title: "The file was not opened", text: sentenceAbout(path, err),
		answers: []answer{{"Close", func() {}}, {"Open another file…", w.OpenFile}},
	}
	if before, err := chartfile.Open(path + "~"); err == nil && before.Native {
		q.answers = append(q.answers, answer{"Open the version before", func() { w.openBefore(path, before) }})
	}
	q.keyboard = len(q.answers) - 1
	q.highlight = q.keyboard
	w.ask(q)
}

// openBefore opens the version that was kept when path was saved last, as a chart
// that is in no file yet: the damaged file stays as it is.
func (w *Window) openBefore(path string, before chartfile.File) {
	w.unlessUnsaved(func() {
		w.session.OpenImported(before.Chart)
		w.session.Say("The version before of " + session.Quoted(filepath.Base(path)) + " is open. Save it under a name.")
		w.focusPanel(gridPanel)
	})
}
