package ui

import (
	"errors"
	"fmt"
	"path/filepath"
	"sync/atomic"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
)

// TestTheLastStateIsKept holds the keeper to its rules: whatever is written and
// removed in whatever order, what is there in the end is what was given last.
func TestTheLastStateIsKept(t *testing.T) {
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		path := filepath.Join(dir, fmt.Sprint(n))
		k := newKeeper(project.NewJournal(path), func(err error) { t.Error(err) })
		want := ""
		for i := range rapid.IntRange(1, 20).Draw(t, "steps") {
			switch rapid.IntRange(0, 5).Draw(t, "what") {
			case 0:
				if err := k.Remove(); err != nil {
					t.Fatal(err)
				}
				want = ""
			case 1:
				k.settle()
				checkKept(t, path, want)
			default:
				want = fmt.Sprintf("state %d", i)
				if err := k.Write(titled(t, want), "file of "+want); err != nil {
					t.Fatal(err)
				}
			}
		}
		k.settle()
		checkKept(t, path, want)
	})
}

// checkKept checks that the journal holds the chart of a title, or that "" is
// kept.
func checkKept(t *rapid.T, path, title string) {
	t.Helper()
	r, err := project.RecoverJournal(path)
	switch {
	case title == "" && !errors.Is(err, project.ErrNoJournal):
		t.Fatalf("a journal that was removed is there: %v", err)
	case title != "" && (err != nil || r.Chart.Title != title || r.Original != "file of "+title):
		t.Fatalf("kept %+v, %v; want %q", r, err, title)
	}
}

func titled(t rapid.TB, title string) *project.Chart {
	c, err := project.SetTitle{Title: title}.Apply(project.New())
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestAJournalThatCannotBeWrittenIsTold(t *testing.T) {
	var told atomic.Int32
	k := newKeeper(project.NewJournal(filepath.Join(t.TempDir(), "nowhere", "journal")), func(error) { told.Add(1) })
	if err := k.Write(project.New(), ""); err != nil {
		t.Fatal(err)
	}
	if k.settle(); told.Load() != 1 {
		t.Errorf("told %d times", told.Load())
	}
}
