package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
)

// savedChart opens a window on a chart of a file of its own.
func savedChart(t *testing.T) (*Window, string) {
	t.Helper()
	t.Setenv("HOME", t.TempDir())
	path := filepath.Join(t.TempDir(), "tune.organbook")
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "cde")
	w.saveTo(path, func() {})
	if w.session.Dirty() {
		t.Fatal("not saved")
	}
	typeRunes(w, "f")
	return w, path
}

func loaded(t *testing.T, path string) *project.Chart {
	t.Helper()
	c, err := project.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestARefusedSaveLeadsToAnotherFile takes the way out by the keyboard, first out
// of a write-protected file and then out of a folder that is gone.
func TestARefusedSaveLeadsToAnotherFile(t *testing.T) {
	w, path := savedChart(t)
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	w.run("file.save")
	if said := dialogText(w); !strings.Contains(said, "write-protected") || !w.session.Dirty() {
		t.Fatalf("the window says %q", said)
	}
	if len(buttonsOf(w, "Replace what is there")) != 0 {
		t.Error("a protected file can be replaced")
	}
	press(w, fyne.KeyReturn)
	home, _ := os.UserHomeDir()
	other := filepath.Join(home, "tune.organbook")
	if entry, ok := w.win.Canvas().Focused().(*escEntry); !ok || entry.Text != other {
		t.Fatal("the user's own folder is not suggested")
	}
	answerPath(t, w, filepath.Join(home, "gone", "tune"))
	if said := dialogText(w); !strings.Contains(said, "no such file or folder") {
		t.Fatalf("the window says %q", said)
	}
	press(w, fyne.KeyReturn)
	press(w, fyne.KeyReturn)
	if w.session.Path() != other || w.session.Dirty() || !loaded(t, other).Equal(w.session.Chart()) {
		t.Errorf("the chart is %q, unsaved %v", w.session.Path(), w.session.Dirty())
	}
}

// TestWhatOthersWroteIsReplacedOnlyWhenAsked changes the file from outside.
func TestWhatOthersWroteIsReplacedOnlyWhenAsked(t *testing.T) {
	w, path := savedChart(t)
	theirs, err := (project.SetTitle{Title: "Theirs"}).Apply(project.New())
	if err != nil {
		t.Fatal(err)
	}
	if err := project.Save(path, theirs); err != nil {
		t.Fatal(err)
	}
	w.run("file.save")
	if said := dialogText(w); !strings.Contains(said, "another program") {
		t.Fatalf("the window says %q", said)
	}
	press(w, fyne.KeyReturn)
	both := strings.TrimSuffix(path, ".organbook") + "-2.organbook"
	if entry, ok := w.win.Canvas().Focused().(*escEntry); !ok || entry.Text != both {
		t.Error("no free name beside the file is suggested")
	}
	press(w, fyne.KeyEscape)
	if loaded(t, path).Title != "Theirs" || !w.session.Dirty() {
		t.Error("what others wrote is gone")
	}
	w.run("file.save")
	tapButton(t, w.win.Canvas().Overlays().Top(), "Replace what is there")
	if !loaded(t, path).Equal(w.session.Chart()) || w.session.Dirty() {
		t.Error("the file is not replaced")
	}
	if loaded(t, path+"~").Title != "Theirs" {
		t.Error("what others wrote is not kept as the version before")
	}
	typeRunes(w, "g")
	if w.run("file.save"); w.session.Dirty() {
		t.Error("the next save is refused")
	}
}

// TestNewChartAfterARefusedSave goes on where the user was going once the chart is
// saved elsewhere.
func TestNewChartAfterARefusedSave(t *testing.T) {
	w, path := savedChart(t)
	if err := os.Chmod(path, 0o444); err != nil {
		t.Fatal(err)
	}
	w.NewChart()
	press(w, fyne.KeyReturn) // save
	if len(w.session.Chart().Melody) != 4 {
		t.Fatal("the chart is gone before it is saved")
	}
	press(w, fyne.KeyReturn) // save as
	press(w, fyne.KeyReturn) // there
	home, _ := os.UserHomeDir()
	if got := loaded(t, filepath.Join(home, "tune.organbook")); len(got.Melody) != 4 || len(w.session.Chart().Melody) != 0 {
		t.Errorf("saved are %d notes, open %d", len(got.Melody), len(w.session.Chart().Melody))
	}
}

// TestWritingBesideTheWindow holds the writer to its rules: work goes on, one file
// is written at a time in its order, and leaving waits.
func TestWritingBesideTheWindow(t *testing.T) {
	w, path := savedChart(t)
	var waiting []func()
	w.background = func(do func()) { waiting = append(waiting, do) }
	w.run("file.save")
	typeRunes(w, "g")
	w.run("file.save")
	typeRunes(w, "a")
	left := false
	w.unlessUnsaved(func() { left = true })
	if len(waiting) != 1 || left || dialogText(w) != "" || !strings.Contains(w.session.Message(), "still being written") {
		t.Fatalf("%d writings at once, left %v, %q", len(waiting), left, w.session.Message())
	}
	waiting[0]() // the second begins, with all that is there by now
	if got := loaded(t, path); len(got.Melody) != 4 || !w.session.Dirty() || len(waiting) != 2 {
		t.Fatalf("after the first: %d notes in the file, unsaved %v", len(got.Melody), w.session.Dirty())
	}
	waiting[1]()
	if got := loaded(t, path); len(got.Melody) != 6 || w.session.Dirty() || !left {
		t.Errorf("after the second: %d notes in the file, unsaved %v, left %v", len(got.Melody), w.session.Dirty(), left)
	}
}
