package ui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/exchange/chartfile"
	"organbook/internal/project"
)

// damagedChart writes a chart twice, so that there is a version before, and cuts
// the file off.
func damagedChart(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tune.organbook")
	c, err := (project.SetTitle{Title: "Before"}).Apply(project.New())
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if err := project.Save(path, c); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(path, []byte(`{"format":"organbook-chart","version":1,"ba`), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestDamagedFileAtTheStart opens the window on an empty chart, says what is wrong,
// and opens the version before without touching the damaged file.
func TestDamagedFileAtTheStart(t *testing.T) {
	path := damagedChart(t)
	_, problem := chartfile.Open(path)
	w := open(t, Options{Path: path, Problem: problem}, alwaysDark, fyne.NewSize(1280, 720))
	if said := dialogText(w); !strings.Contains(said, "damaged") || !strings.Contains(said, "tune.organbook") {
		t.Errorf("the window says %q", said)
	}
	if len(w.session.Chart().Melody) != 0 || w.session.Path() != "" || len(w.prefs.recent()) != 0 {
		t.Error("the window did not open on an empty chart")
	}
	press(w, fyne.KeyReturn) // the way on: the version before
	if w.session.Chart().Title != "Before" || w.session.Path() != "" || !w.session.Dirty() {
		t.Errorf("open is %q of %q", w.session.Chart().Title, w.session.Path())
	}
	if err := w.session.Save(path); err == nil {
		t.Error("the damaged file was written over")
	}
}

// TestFilesThatCannotBeOpenedAtTheStart have no version before; the dialog closes
// by Escape, and leads to another file.
func TestFilesThatCannotBeOpenedAtTheStart(t *testing.T) {
	for _, tc := range []struct{ name, text, want string }{
		{"newer.organbook", `{"format":"organbook-chart","version":9}`, "newer version"},
		{"foreign.organbook", `{"name":"x"}`, "foreign.organbook"},
		{"text.musicxml", "once upon a time", "text.musicxml"},
		{"none.organbook", "", "no such file"},
	} {
		path := filepath.Join(t.TempDir(), tc.name)
		if tc.text != "" {
			if err := os.WriteFile(path, []byte(tc.text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		_, problem := chartfile.Open(path)
		if problem == nil {
			problem = errors.New("it was opened")
		}
		w := open(t, Options{Path: path, Problem: problem}, alwaysDark, fyne.NewSize(1280, 720))
		if said := dialogText(w); !strings.Contains(said, tc.want) {
			t.Errorf("%s: the window says %q", tc.name, said)
		}
		if len(buttonsOf(w, "Open the version before")) != 0 || len(buttonsOf(w, "Open another file")) != 1 {
			t.Errorf("%s: the dialog offers the wrong ways out", tc.name)
		}
		press(w, fyne.KeyEscape)
		if w.win.Canvas().Overlays().Top() != nil || !w.grid.empty.root.Visible() {
			t.Errorf("%s: after Escape there is no empty chart", tc.name)
		}
	}
}
