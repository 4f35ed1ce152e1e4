package ui

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/export"
)

// TestEscapeCancelsAnExport: the one button of the dialog has the keyboard, Escape
// and Enter press it, nothing is left of the file, and the grid has the keyboard
// again.
func TestEscapeCancelsAnExport(t *testing.T) {
	for _, key := range []fyne.KeyName{fyne.KeyEscape, fyne.KeyReturn} {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
		var work func()
		w.background = func(do func()) { work = do }
		path := filepath.Join(t.TempDir(), "long.wav")
		w.export(path, export.NoStems)
		cancel, ok := w.win.Canvas().Focused().(*escButton)
		if !ok {
			t.Fatalf("%T has the keyboard", w.win.Canvas().Focused())
		}
		cancel.TypedKey(&fyne.KeyEvent{Name: key})
		cancel.TypedKey(&fyne.KeyEvent{Name: key}) // and again before it has ended
		work()
		if _, err := os.Stat(path); err == nil || w.session.Message() != "The export was cancelled; nothing was written." {
			t.Errorf("%s: the file is there: %v; said: %s", key, err == nil, w.session.Message())
		}
		if w.win.Canvas().Overlays().Top() != nil || w.win.Canvas().Focused() != fyne.Focusable(w.grid) {
			t.Errorf("%s: %T has the keyboard", key, w.win.Canvas().Focused())
		}
	}
}
