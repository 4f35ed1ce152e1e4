package project_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestJournalRecoversTheLatestChart(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal")
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		original := rapid.SampledFrom([]string{"", "/music/Night Ferry.organbook"}).Draw(t, "original")
		if err := project.NewJournal(path).Write(c, original); err != nil {
			t.Fatal(err)
		}
		r, err := project.RecoverJournal(path)
		if err != nil || !r.Chart.Equal(c) || r.Original != original {
			t.Fatalf("recovered %q: %v", r.Original, err)
		}
	})
}

func TestJournalLeavesNothingAfterACleanClose(t *testing.T) {
	dir := t.TempDir()
	j := project.NewJournal(filepath.Join(dir, "journal"))
	if err := j.Write(project.New(), ""); err != nil {
		t.Fatal(err)
	}
	if err := j.Remove(); err != nil {
		t.Fatal(err)
	}
	if err := j.Remove(); err != nil {
		t.Errorf("removing twice: %v", err)
	}
	left, _ := os.ReadDir(dir)
	if _, err := project.RecoverJournal(j.Path()); !errors.Is(err, project.ErrNoJournal) || len(left) > 0 {
		t.Errorf("left %v, error %v", left, err)
	}
}

// A journal that cannot be read says so and stays for a closer look.
func TestJournalDamaged(t *testing.T) {
	path := filepath.Join(t.TempDir(), "journal")
	project.NewJournal(path).Write(tune(), "x")
	whole, _ := os.ReadFile(path)
	for name, tt := range map[string]struct {
		content string
		is      error
	}{
		"empty":     {"", project.ErrDamaged},
		"truncated": {string(whole[:len(whole)/2]), project.ErrDamaged},
		"a chart":   {text(t, tune()), project.ErrForeign},
		"newer":     {strings.Replace(string(whole), `"version":1`, `"version":2`, 1), project.ErrNewer},
		"unsound":   {strings.Replace(string(whole), `"tempo":120`, `"tempo":12`, 1), project.ErrDamaged},
		"extra":     {strings.Replace(string(whole), `"path"`, `"way"`, 1), project.ErrDamaged},
	} {
		os.WriteFile(path, []byte(tt.content), 0o644)
		if _, err := project.RecoverJournal(path); !errors.Is(err, tt.is) {
			t.Errorf("%s: %v, want %v", name, err, tt.is)
		}
		if got, _ := os.ReadFile(path); string(got) != tt.content {
			t.Errorf("%s: the journal was changed", name)
		}
	}
}

func TestJournalErrors(t *testing.T) {
	var none project.Journal
	if none.Write(project.New(), "") != nil || none.Remove() != nil {
		t.Error("the zero journal failed")
	}
	dir := t.TempDir()
	if err := project.NewJournal(filepath.Join(dir, "none", "journal")).Write(project.New(), ""); err == nil {
		t.Error("a journal in no folder was written")
	}
	unsound := project.New()
	unsound.Bars = nil
	if err := project.NewJournal(filepath.Join(dir, "journal")).Write(unsound, ""); err == nil {
		t.Error("an unsound chart was journalled")
	}
	os.MkdirAll(filepath.Join(dir, "folder", "inside"), 0o755)
	if err := project.NewJournal(filepath.Join(dir, "folder")).Remove(); err == nil {
		t.Error("a folder was removed as a journal")
	}
	if _, err := project.RecoverJournal(dir); err == nil || errors.Is(err, project.ErrNoJournal) {
		t.Errorf("a folder as a journal: %v", err)
	}
}
