package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
	"organbook/internal/exchange/chartfile"
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// unlessUnsaved goes on when nothing would be lost, or asks first.
func (w *Window) unlessUnsaved(then func()) {
	if !w.session.Dirty() {
		then()
		return
	}
	var d *dialog.CustomDialog
	answer := func(f func()) func() { return func() { d.Hide(); w.focusPanel(gridPanel); f() } }
	closing := answer(func() {})
	save := newEscButton("Save", answer(func() { w.saveThen(then) }), closing)
	save.Importance = widget.HighImportance
	drop := newEscButton("Do not save", answer(then), closing)
	cancel := newEscButton("Cancel", closing, closing)
	label := widget.NewLabel(fmt.Sprintf("“%s” has unsaved work. Save it first?", w.session.FileTitle()))
	d = dialog.NewCustomWithoutButtons("Unsaved work", label, w.win)
	d.SetButtons([]fyne.CanvasObject{cancel, drop, save})
	d.Show()
	w.win.Canvas().Focus(save)
}

// saveThen saves and goes on when that succeeded.
func (w *Window) saveThen(then func()) {
	if path := w.session.Path(); path != "" {
		if w.session.Save(path) == nil {
			then()
		} else {
			w.showError(errors.New(w.session.Message()))
		}
		return
	}
	w.askSave("Save chart", w.suggestedName(".organbook"), func(path string) {
		if w.saveTo(path) {
			then()
		}
	})
}

func (w *Window) saveTo(path string) bool {
	if !isChartPath(path) {
		path += ".organbook"
	}
	if w.session.Save(path) != nil {
		w.showError(errors.New(w.session.Message()))
		return false
	}
	w.prefs.addRecent(path)
	return true
}

// SaveFile writes the chart to its file, or asks for one.
func (w *Window) SaveFile(as bool) {
	if as {
		w.askSave("Save chart as", w.suggestedName(".organbook"), func(path string) { w.saveTo(path) })
		return
	}
	w.saveThen(func() {})
}

// suggestedName is a file name made of the chart's.
func (w *Window) suggestedName(ending string) string {
	name := w.session.FileTitle()
	name = strings.TrimSuffix(name, filepath.Ext(name))
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) {
			return '-'
		}
		return r
	}, name)
	return strings.ToLower(strings.Join(strings.Fields(name), "-")) + ending
}

// NewChart starts an empty chart.
func (w *Window) NewChart() {
	w.unlessUnsaved(func() {
		w.session.Open(project.New(), "")
		w.focusPanel(gridPanel)
		w.session.Say("An empty chart: type note letters, or Enter for a chord.")
	})
}

// OpenDemo opens the built-in chart.
func (w *Window) OpenDemo() {
	w.unlessUnsaved(func() {
		c, err := assets.Demo()
		if err != nil {
			w.showError(err)
			return
		}
		w.session.Open(c, "")
	})
}

// OpenFile asks for a file and opens it.
func (w *Window) OpenFile() {
	w.unlessUnsaved(func() { w.askOpen(w.openPath) })
}

// openPath opens a file; warnings of an import are shown.
func (w *Window) openPath(path string) {
	file, err := chartfile.Open(path)
	if err != nil {
		w.prefs.dropRecent(path)
		w.showError(err)
		return
	}
	w.prefs.addRecent(path)
	w.prefs.setFolder(filepath.Dir(path))
	if file.Native {
		w.session.Open(file.Chart, path)
	} else {
		w.session.Open(file.Chart, "")
		w.session.MarkUnsaved()
		w.session.Say("Imported " + filepath.Base(path) + ". Save makes a chart of it.")
	}
	w.focusPanel(gridPanel)
	if len(file.Warnings) > 0 {
		w.showWarnings(path, file.Warnings)
	}
}

// askOpen shows a file dialog with a line to type a path.
func (w *Window) askOpen(then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		then(path)
	}, w.win)
	d.SetFilter(storage.NewExtensionFileFilter(chartfile.Endings))
	w.typePath("Open", "Path of a chart or lead sheet", w.prefs.folder(), d, then)
}

// typePath asks for a path in a line, with a button that browses instead.
func (w *Window) typePath(verb, what, text string, browse interface{ Show() }, then func(path string)) {
	if fd, ok := browse.(*dialog.FileDialog); ok {
		if dir := w.startFolder(); dir != nil {
			fd.SetLocation(dir)
		}
		fd.Resize(fyne.NewSize(900, 600))
	}
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.focusPanel(gridPanel) }
	entry := newEscEntry(text, closing)
	done := func() {
		path := strings.TrimSpace(entry.Text)
		if path == "" || strings.HasSuffix(path, "/") {
			w.session.Say(session.Sentence(errNoName))
			return
		}
		closing()
		then(expandHome(path))
	}
	entry.OnSubmitted = func(string) { done() }
	ok := newEscButton(verb, done, closing)
	ok.Importance = widget.HighImportance
	other := newEscButton("Browse…", func() { d.Hide(); browse.Show() }, closing)
	cancel := newEscButton("Cancel", closing, closing)
	label := widget.NewLabel(what)
	objects := []fyne.CanvasObject{label, entry}
	if verb == "Open" {
		objects = append(objects, w.recentButtons(func(path string) { closing(); then(path) })...)
	}
	d = dialog.NewCustomWithoutButtons(verb, container.NewVBox(objects...), w.win)
	d.SetButtons([]fyne.CanvasObject{other, cancel, ok})
	d.Resize(fyne.NewSize(560, 160))
	d.Show()
	w.win.Canvas().Focus(entry)
}

// recentButtons lists recent files as buttons.
func (w *Window) recentButtons(then func(path string)) []fyne.CanvasObject {
	list := w.prefs.recent()
	if len(list) == 0 {
		return nil
	}
	out := []fyne.CanvasObject{widget.NewLabel("Recent")}
	for _, path := range list[:min(len(list), 6)] {
		b := widget.NewButton(filepath.Base(path)+"   "+filepath.Dir(path), func() { then(path) })
		b.Alignment = widget.ButtonAlignLeading
		b.Importance = widget.LowImportance
		out = append(out, b)
	}
	return out
}

func (w *Window) startFolder() fyne.ListableURI {
	dir := w.prefs.folder()
	if dir == "" {
		return nil
	}
	u, err := storage.ListerForURI(storage.NewFileURI(dir))
	if err != nil {
		return nil
	}
	return u
}

// expandHome lets a typed path start with "~/".
func expandHome(path string) string {
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return path
}

// askSave asks for a path to write to; an existing file is asked about.
func (w *Window) askSave(title, name string, then func(path string)) {
	d := dialog.NewFileSave(func(u fyne.URIWriteCloser, err error) {
		if err != nil || u == nil {
			return
		}
		path := u.URI().Path()
		u.Close()
		then(path)
	}, w.win)
	d.SetFileName(name)
	start := name
	if dir := w.prefs.folder(); dir != "" {
		start = filepath.Join(dir, name)
	} else if home, err := os.UserHomeDir(); err == nil {
		start = filepath.Join(home, name)
	}
	w.typePath("Save", title+": the path", start, d, func(path string) {
		w.prefs.setFolder(filepath.Dir(path))
		if _, err := os.Stat(path); err != nil {
			then(path)
			return
		}
		w.ask("Replace the file?", filepath.Base(path)+" exists. Replace it?", "Replace", "Cancel", func() { then(path) }, func() {})
	})
}

// Quit closes the window, asking about unsaved work.
func (w *Window) Quit() {
	w.unlessUnsaved(func() {
		w.session.Close()
		w.win.SetCloseIntercept(nil)
		w.win.Close()
	})
}
