package ui

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/export"
	"organbook/internal/ui/session"
)

// Export asks for a name and writes the chart in another form, with progress
// and a way to cancel.
func (w *Window) Export(ending string) {
	w.askSave(exportTitles[ending], ending, func(path string) { w.export(path, export.NoStems) })
}

// ExportStems asks for a name and writes the sound of each layer, or of each
// division, to a file of its own, named after it.
func (w *Window) ExportStems(layers bool) {
	kind := export.DivisionStems
	if layers {
		kind = export.LayerStems
	}
	w.askSave(stemsTitle(kind), ".wav", func(path string) { w.exportStems(path, kind) })
}

func stemsTitle(kind export.Stems) string {
	of := "division"
	if kind == export.LayerStems {
		of = "layer"
	}
	return "Export a sound file for each " + of + ", named after this one"
}

// exportStems asks before it replaces files that are there.
func (w *Window) exportStems(path string, kind export.Stems) {
	job := export.NewJob(w.session.Chart(), w.session.Options())
	job.Stems = kind
	there := ""
	for _, p := range job.Files(path) {
		if _, err := os.Stat(p); err == nil {
			there = p
		}
	}
	if there == "" {
		w.export(path, kind)
		return
	}
	w.ask(question{
		title: "Replace files?", text: session.Quoted(filepath.Base(there)) + " and perhaps others exist in " + session.Quoted(filepath.Dir(path)) + ". Replace them?",
		answers: []answer{{"Cancel", func() {}}, {"Replace", func() { w.export(path, kind) }}},
	})
}

// exportTitles say what is written, by ending.
var exportTitles = map[string]string{
	".musicxml": "Export the score as MusicXML", ".mid": "Export a MIDI file", ".wav": "Export the sound", ".flac": "Export the sound without loss, in less room",
	".png": "Export a picture of the grid", ".json": "Export the realisation",
}

// errCancelled ends an export that the user cancelled.
var errCancelled = errors.New("cancelled")

// exportElsewhere asks for another place, beginning with the one that did not do.
func (w *Window) exportElsewhere(path string, stems export.Stems) {
	ending := strings.ToLower(filepath.Ext(path))
	if stems == export.NoStems {
		w.askSaveAs(exportTitles[ending], ending, path, func(path string) { w.export(path, stems) })
		return
	}
	w.askSaveAs(stemsTitle(stems), ending, path, func(path string) { w.exportStems(path, stems) })
}

func (w *Window) export(path string, stems export.Stems) {
	job := export.NewJob(w.session.Chart(), w.session.Options())
	job.Stems = stems
	cancelled := make(chan struct{})
	bar, figure := widget.NewProgressBar(), widget.NewLabelWithStyle("", fyne.TextAlignTrailing, fyne.TextStyle{})
	bar.TextFormatter = func() string { return "" } // on the bar it would lie on two colours
	show := func(done float64) {
		bar.SetValue(done)
		figure.SetText(fmt.Sprintf("%.0f %%", 100*done))
	}
	show(1)
	room := container.NewGridWrap(figure.MinSize(), figure)
	show(0)
	d := dialog.NewCustomWithoutButtons(tr("Exporting "+session.Quoted(filepath.Base(path))), container.NewBorder(nil, nil, nil, room, bar), w.win)
	stop := sync.OnceFunc(func() { close(cancelled) })
	cancel := newEscButton("Cancel", stop, stop)
	d.SetButtons([]fyne.CanvasObject{cancel})
	d.Resize(fyne.NewSize(420, 120))
	d.Show()
	w.giveDialog(cancel)
	job.Progress = func(done float64) error {
		select {
		case <-cancelled:
			return errCancelled
		default:
		}
		fyne.Do(func() { show(done) })
		return nil
	}
	w.background(func() {
		err := job.Write(path)
		files := job.Files(path)
		fyne.Do(func() { d.Hide(); w.regain(); w.exported(path, files, stems, err) })
	})
}

// exported says how an export ended. One that failed, for want of room or of leave
// to write, say, can be tried again or go elsewhere; nobody has to begin from the
// menu.
func (w *Window) exported(path string, files []string, stems export.Stems, err error) {
	switch {
	case errors.Is(err, errCancelled):
		w.session.Say("The export was cancelled; nothing was written.")
	case err != nil:
		w.ask(question{
			title: "This did not work", text: session.Sentence(err),
			answers: []answer{
				{"Close", func() {}},
				{"Save elsewhere", func() { w.exportElsewhere(path, stems) }},
				{"Try again", func() { w.export(path, stems) }},
			},
			keyboard: 2, highlight: 2,
		})
	default:
		w.prefs.setFolder(filepath.Dir(path))
		first, last := session.Quoted(filepath.Base(files[0])), session.Quoted(filepath.Base(files[len(files)-1]))
		if len(files) > 1 {
			w.session.Say("Exported to " + first + " and others up to " + last + ".")
			return
		}
		w.session.Say("Exported to " + first + ".")
	}
}
