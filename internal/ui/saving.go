package ui

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// saveThen saves and goes on when that succeeded.
func (w *Window) saveThen(then func()) {
	if path := w.session.Path(); path != "" {
		w.saveTo(path, then)
		return
	}
	w.saveAsThen(w.suggestedPath(project.Extension), then)
}

// saveAsThen asks for a file first.
func (w *Window) saveAsThen(start string, then func()) {
	title := "Save the chart"
	if w.session.Path() != "" {
		title = "Save the chart as"
	}
	w.askSaveAs(title, project.Extension, start, func(path string) { w.save(path, path == w.session.Path(), then) })
}

// SaveFile writes the chart to its file, or asks for one.
func (w *Window) SaveFile(as bool) {
	if as {
		w.saveAsThen(w.suggestedPath(project.Extension), func() {})
		return
	}
	w.saveThen(func() {})
}

// saveTo writes the chart to a file that becomes its own.
func (w *Window) saveTo(path string, then func()) { w.save(path, false, then) }

// save is saveTo; over replaces what another program has written to the file.
func (w *Window) save(path string, over bool, then func()) {
	var v session.Saving
	begin := func() func() error { v = w.session.SaveTo(path, over); return v.Write }
	w.writer.add(begin, func(err error) {
		if w.session.Saved(v, err) != nil {
			w.showUnsaved(path, err, then)
			return
		}
		w.prefs.addRecent(path)
		w.prefs.setFolder(filepath.Dir(path))
		w.grid.entry.remind()
		then()
	})
}

// showUnsaved says why a chart was not saved and offers another file, and to
// replace what another program has written.
func (w *Window) showUnsaved(path string, err error, then func()) {
	q := question{title: "The chart was not saved", text: sentenceAbout(path, err), answers: []answer{{"Close", func() {}}}}
	if errors.Is(err, project.ErrChanged) {
		q.answers = append(q.answers, answer{"Replace what is there", func() { w.save(path, true, then) }})
	}
	q.answers = append(q.answers, answer{"Save as…", func() { w.saveAsThen(w.elsewhere(path, err), then) }})
	q.keyboard = len(q.answers) - 1
	q.highlight = q.keyboard
	w.ask(q)
}

// elsewhere suggests a file after one that could not be written: in the user's own
// folder if the folder or its disk was the reason, under a free name.
func (w *Window) elsewhere(path string, err error) string {
	dir, name := filepath.Split(path)
	if home, homeErr := os.UserHomeDir(); homeErr == nil && !errors.Is(err, project.ErrChanged) {
		dir = home
	}
	return freeName(filepath.Join(dir, name))
}

// freeName puts the first number after a file's name that makes it one of no file.
func freeName(path string) string {
	ending := filepath.Ext(path)
	base, free := strings.TrimSuffix(path, ending), path
	for n := 2; ; n++ {
		if _, err := os.Lstat(free); errors.Is(err, fs.ErrNotExist) {
			return free
		} else if err != nil {
			return path
		}
		free = base + "-" + strconv.Itoa(n) + ending
	}
}
