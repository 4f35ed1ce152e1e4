package ui

import (
	"errors"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/export"
)

// Export asks for a name and writes the chart in another form, with progress
// and a way to cancel.
func (w *Window) Export(ending string) {
	w.askSave(exportTitles[ending], ending, w.export)
}

// exportTitles say what is written, by ending.
var exportTitles = map[string]string{
	".musicxml": "Export the score as MusicXML", ".mid": "Export a MIDI file", ".wav": "Export the sound",
	".png": "Export a picture of the grid", ".json": "Export the realisation",
}

// errCancelled ends an export that the user cancelled.
var errCancelled = errors.New("cancelled")

func (w *Window) export(path string) {
	job := export.NewJob(w.session.Chart(), w.session.Options())
	cancelled := make(chan struct{})
	bar := widget.NewProgressBar()
	cancel := widget.NewButton("Cancel", nil)
	d := dialog.NewCustomWithoutButtons("Exporting "+filepath.Base(path), bar, w.win)
	var once bool
	cancel.OnTapped = func() {
		if !once {
			once = true
			close(cancelled)
		}
	}
	d.SetButtons([]fyne.CanvasObject{cancel})
	d.Resize(fyne.NewSize(420, 120))
	d.Show()
	job.Progress = func(done float64) error {
		select {
		case <-cancelled:
			return errCancelled
		default:
		}
		fyne.Do(func() { bar.SetValue(done) })
		return nil
	}
	go func() {
		err := job.Write(path)
		fyne.Do(func() { d.Hide(); w.exported(path, err) })
	}()
}

func (w *Window) exported(path string, err error) {
	switch {
	case errors.Is(err, errCancelled):
		w.session.Say("The export was cancelled; nothing was written.")
	case err != nil:
		w.showError(err)
	default:
		w.prefs.setFolder(filepath.Dir(path))
		w.session.Say("Exported to " + filepath.Base(path) + ".")
	}
}
