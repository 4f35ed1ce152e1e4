package ui

import (
	"errors"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
)

// TestNamesAreNeverTranslated gives a file and passages names that are words of the
// program.
func TestNamesAreNeverTranslated(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	if got := sentenceAbout("Undo", errors.New("Undo: the file is empty")); got != "Undo: Die Datei ist leer." && got != "Undo: die Datei ist leer." {
		t.Errorf("of a file called Undo it says %q", got)
	}
	if got := tr("Saved to “Undo”."); !strings.Contains(got, "Undo") || strings.Contains(got, "Rückgängig") {
		t.Errorf("saved to Undo: %q", got)
	}
	if got := w.passageTitle(0); got != "Takte 1–8" {
		t.Errorf("a passage without a name is called %q", got)
	}
	if err := w.session.RenamePassage("Undo"); err != nil {
		t.Fatal(err)
	}
	if got := w.passageTitle(0); got != "Undo" {
		t.Errorf("a passage called Undo is called %q", got)
	}
	if got := tr("Takes of " + w.session.PassageQuoted(0)); !strings.Contains(got, "Undo") {
		t.Errorf("its takes: %q", got)
	}
}
