package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"

	"organbook/assets"
	"organbook/internal/exchange/chartfile"
	"organbook/internal/project"
	"organbook/internal/ui/export"
	"organbook/internal/ui/session"
)

// unlessUnsaved goes on when nothing would be lost, or asks first.
func (w *Window) unlessUnsaved(then func()) {
	w.writer.whenIdle(func() { w.askUnsaved(then) })
}

func (w *Window) askUnsaved(then func()) {
	if !w.session.Worked() {
		then()
		return
	}
	name := w.session.FileTitle()
	if name == session.Untitled {
		name = tr(name)
	}
	w.ask(question{
		title: "Unsaved work", text: fmt.Sprintf("“%s” has unsaved work. Save it first?", name),
		answers:  []answer{{"Cancel", func() {}}, {"Do not save", then}, {"Save", func() { w.saveThen(func() { w.unlessUnsaved(then) }) }}},
		keyboard: 2, highlight: 2,
	})
}

// suggestedName is a file name made of the chart's.
func (w *Window) suggestedName(ending string) string {
	name := w.session.FileTitle()
	if path := w.session.Path(); path != "" {
		name = project.NameOfFile(path)
	}
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
	w.unlessUnsaved(func() { w.askOpen(w.openPath, false) })
}

// openPath opens a file; warnings of an import are shown.
func (w *Window) openPath(path string) {
	file, err := chartfile.Open(path)
	if err != nil {
		w.prefs.dropRecent(path)
		w.showUnopened(path, err)
		return
	}
	w.prefs.addRecent(path)
	w.prefs.setFolder(filepath.Dir(path))
	if file.Native {
		w.session.Open(file.Chart, path)
	} else {
		w.session.OpenImported(file.Chart)
		w.session.Say("Imported " + session.Quoted(filepath.Base(path)) + ". Save makes a chart of it.")
	}
	w.focusPanel(gridPanel)
	if len(file.Warnings) > 0 {
		w.showWarnings(path, file.Warnings)
	}
}

// askOpen asks for a file by its path, from the recent ones or by browsing.
func (w *Window) askOpen(then func(path string), recentFirst bool) {
	w.askPath(pathQuestion{
		title: "Open", verb: "Open", label: "A chart or a lead sheet: its path",
		text: w.prefs.folder(), folder: w.prefs.folder(), recent: true, recentFirst: recentFirst, browse: w.browseFiles,
	}, then)
}

// browseFiles shows the toolkit's list of files.
func (w *Window) browseFiles(_ string, then func(path string), _ func()) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			return
		}
		path := r.URI().Path()
		r.Close()
		then(path)
	}, w.win)
	d.SetFilter(storage.NewExtensionFileFilter(chartfile.Endings))
	w.showBrowser(d)
}

// browseFolders shows the toolkit's list of folders; then gets the name that
// was typed in the folder that was chosen. It writes nothing: what to write is
// asked in the line of the path again.
func (w *Window) browseFolders(typed string, then func(path string), back func()) {
	d := dialog.NewFolderOpen(func(dir fyne.ListableURI, err error) {
		if err != nil || dir == nil {
			back()
			return
		}
		then(filepath.Join(dir.Path(), filepath.Base(typed)))
	}, w.win)
	w.showBrowser(d)
}

func (w *Window) showBrowser(d *dialog.FileDialog) {
	if dir := w.startFolder(); dir != nil {
		d.SetLocation(dir)
	}
	d.Resize(fyne.NewSize(900, 600))
	d.Show()
}

// OpenRecent lists the recent files, with the keyboard on the latest, or says that
// there are none.
func (w *Window) OpenRecent() {
	if len(w.prefs.recent()) == 0 {
		w.ask(question{
			title: "No recent charts", text: "No chart has been opened or saved on this computer so far.",
			answers:  []answer{{"Close", func() {}}, {"Open…", w.OpenFile}},
			keyboard: 1, highlight: 1,
		})
		return
	}
	w.unlessUnsaved(func() { w.askOpen(w.openPath, true) })
}

// recentButtons lists recent files as buttons.
func (w *Window) recentButtons(then func(path string), escape func()) (out []*escButton) {
	list := w.prefs.recent()
	for _, path := range list[:min(len(list), 6)] {
		b := newEscButton("", func() { then(path) }, escape)
		b.Text = filepath.Base(path) + "   " + filepath.Dir(path) // never translated
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

// askSave asks for a path to write to. The ending is added first, and a file
// of that name is asked about.
func (w *Window) askSave(title, ending string, then func(path string)) {
	w.askSaveAs(title, ending, w.suggestedPath(ending), then)
}

func (w *Window) askSaveAs(title, ending, start string, then func(path string)) {
	q := pathQuestion{title: title, verb: "Save", label: "Folder and name; the ending is " + ending, text: start, folder: filepath.Dir(start)}
	if other, is := sameKind[ending]; is {
		q.label += " or " + other
	}
	q.browse = func(typed string, _ func(string), back func()) {
		again := func(path string) { w.askSaveAs(title, ending, path, then) }
		w.browseFolders(typed, again, func() { again(typed) })
	}
	w.askPath(q, func(path string) {
		path = withEnding(path, ending)
		if _, err := os.Stat(path); err != nil {
			then(path)
			return
		}
		w.ask(question{
			title: "Replace the file?", text: session.Quoted(filepath.Base(path)) + " exists in " + session.Quoted(filepath.Dir(path)) + ". Replace it?",
			answers: []answer{{"Cancel", func() {}}, {"Replace", func() { then(path) }}},
		})
	})
}

// suggestedPath is the chart's name in the folder that was last written to or
// read from.
func (w *Window) suggestedPath(ending string) string {
	name := w.suggestedName(ending)
	if dir := w.prefs.folder(); dir != "" {
		return filepath.Join(dir, name)
	}
	if home, err := os.UserHomeDir(); err == nil {
		return filepath.Join(home, name)
	}
	return name
}

// sameKind are the endings that serve as well as the one that was offered.
var sameKind = map[string]string{".musicxml": ".mxl", ".wav": ".flac", ".flac": ".wav"}

// withEnding gives a path the ending of the kind of file it is for. The ending
// of another kind that the program writes is replaced; anything else after a
// full stop belongs to the name.
func withEnding(path, ending string) string {
	given := filepath.Ext(path)
	if strings.EqualFold(given, ending) || given != "" && strings.EqualFold(given, sameKind[ending]) {
		return path
	}
	if export.Check(path) == nil {
		path = strings.TrimSuffix(path, given)
	}
	return path + ending
}

// Quit closes the window, asking about unsaved work.
func (w *Window) Quit() {
	w.unlessUnsaved(func() {
		close(w.closing)
		w.keyboards.close()
		w.session.Close()
		w.desk.Close()
		w.win.SetCloseIntercept(nil)
		w.win.Close()
	})
}
