package ui

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

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
		// A figure on the toolkit's bar would lie on two colours.
		bar, figure := fyne.CanvasObject(nil), fyne.CanvasObject(nil)
		for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
			switch o := o.(type) {
			case *widget.ProgressBar:
				bar = o
			case *widget.Label:
				if o.Text == "0 %" {
					figure = o
				}
			}
		}
		if bar == nil || figure == nil {
			t.Fatalf("the bar is there: %t, the figure: %t", bar != nil, figure != nil)
		}
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject
		if end := at(bar).X + bar.Size().Width; at(figure).X < end {
			t.Errorf("the figure at %g lies on the bar that ends at %g", at(figure).X, end)
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

// TestAFailedExportCanBeTriedAgainOrGoElsewhere exports into a folder that is not
// there: trying again works once the folder is made, elsewhere asks for a place that
// begins with the first, and closing leaves nothing behind.
func TestAFailedExportCanBeTriedAgainOrGoElsewhere(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	press := func(label string) {
		t.Helper()
		for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
			if b, ok := o.(*escButton); ok && b.Text == label {
				b.OnTapped()
				return
			}
		}
		t.Fatalf("there is no %q", label)
	}
	dir := filepath.Join(t.TempDir(), "gone")
	path := filepath.Join(dir, "tune.mid")
	w.export(path, export.NoStems)
	press("Save elsewhere")
	if e, ok := w.win.Canvas().Focused().(interface{ SelectedText() string }); !ok || w.win.Canvas().Overlays().Top() == nil {
		t.Errorf("elsewhere: %T has the keyboard", e)
	}
	elsewhere := filepath.Join(t.TempDir(), "other.mid")
	field := w.win.Canvas().Focused().(interface {
		SetText(string)
		fyne.Focusable
	})
	field.SetText(elsewhere)
	field.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if _, err := os.Stat(elsewhere); err != nil {
		t.Error("nothing is written elsewhere:", err)
	}
	w.export(path, export.NoStems)
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	press("Try again")
	if _, err := os.Stat(path); err != nil || w.win.Canvas().Overlays().Top() != nil {
		t.Error("tried again, nothing is written:", err)
	}
}
