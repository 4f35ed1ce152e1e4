package ui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// pathQuestion asks for a path in a line.
type pathQuestion struct {
	title, verb, label string
	// text is what the line starts with; a name without a folder is one in folder.
	text, folder string
	// recent lists recent files under the line; with recentFirst the latest has the
	// keyboard.
	recent, recentFirst bool
	// browse shows a list to choose from instead; then is what the line's
	// answer does, back what brings the line again.
	browse func(typed string, then func(path string), back func())
}

// Errors of the line for a path.
var (
	errNoName = errors.New("the file needs a name")
	errFolder = errors.New("this is a folder; write a name after it")
)

// askPath asks for a path; then gets it when it could be a file's.
func (w *Window) askPath(q pathQuestion, then func(path string)) {
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.regain() }
	entry := newEscEntry(q.text, closing)
	problem := widget.NewLabel("")
	problem.Importance = widget.DangerImportance
	problem.Hide()
	done := func() {
		path, err := readPath(entry.Text, q.folder)
		if err != nil {
			problem.SetText(sentence(err))
			problem.Show()
			return
		}
		closing()
		then(path)
	}
	entry.OnSubmitted = func(string) { done() }
	ok := newEscButton(q.verb, done, closing)
	ok.Importance = widget.HighImportance
	other := newEscButton("Browse…", func() { d.Hide(); q.browse(expandHome(entry.Text), then, func() {}) }, closing)
	cancel := newEscButton("Cancel", closing, closing)
	var recent []*escButton
	objects := []fyne.CanvasObject{widget.NewLabel(tr(q.label)), entry, problem}
	if q.recent {
		recent = w.recentButtons(func(path string) { closing(); then(path) }, closing)
		if len(recent) > 0 {
			objects = append(objects, widget.NewLabel(tr("Recent")))
		}
		for _, b := range recent {
			objects = append(objects, b)
		}
	}
	d = dialog.NewCustomWithoutButtons(tr(q.title), container.NewVBox(objects...), w.win)
	d.SetButtons([]fyne.CanvasObject{other, cancel, ok})
	d.Resize(fyne.NewSize(560, 160))
	d.Show()
	if q.recentFirst && len(recent) > 0 {
		w.giveDialog(recent[0])
		return
	}
	w.giveDialog(entry)
	entry.choose(nameIn(q.text))
}

// nameIn returns where the name of a file is in its path, in characters, without the
// ending; all of it where that is a folder.
func nameIn(path string) (from, to int) {
	dir, name := filepath.Split(path)
	from, to = len([]rune(dir)), len([]rune(path))
	if ending := filepath.Ext(name); ending != "" && ending != name {
		return from, to - len([]rune(ending))
	}
	return 0, to
}

// readPath returns the path that was typed, or says why it is none.
func readPath(text, folder string) (string, error) {
	path := expandHome(strings.TrimSpace(text))
	if path == "" {
		return "", errNoName
	}
	if !filepath.IsAbs(path) && folder != "" {
		path = filepath.Join(folder, path) + trailing(path)
	}
	if info, err := os.Stat(path); err == nil && info.IsDir() || strings.HasSuffix(path, string(os.PathSeparator)) {
		return "", errFolder
	}
	return path, nil
}

// trailing is the separator at the end of a path, which says that it is a folder's.
func trailing(path string) string {
	if strings.HasSuffix(path, string(os.PathSeparator)) {
		return string(os.PathSeparator)
	}
	return ""
}
