package export

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"organbook/assets"
	"organbook/internal/arrange"
)

func demoJob(t *testing.T) *Job {
	t.Helper()
	c, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	return NewJob(c, arrange.Options{})
}

func filesIn(t *testing.T, dir string) (names []string) {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		if info, err := f.Info(); err != nil || info.Size() < 1000 {
			t.Errorf("%s has %d bytes", f.Name(), info.Size())
		}
		names = append(names, f.Name())
	}
	return names
}

// TestStemFiles writes the stems of the demo and looks at what is there.
func TestStemFiles(t *testing.T) {
	for stems, want := range map[Stems][]string{
		NoStems:       {"x.flac"},
		DivisionStems: {"x lower.flac", "x pedal.flac", "x upper.flac"},
		LayerStems:    {"x bass.flac", "x block.flac", "x comp.flac", "x double.flac", "x lead.flac"},
	} {
		j := demoJob(t)
		j.Stems = stems
		dir := t.TempDir()
		last := 0.0
		j.Progress = func(done float64) error {
			if done < last {
				t.Errorf("progress falls from %v to %v", last, done)
			}
			last = done
			return nil
		}
		path := filepath.Join(dir, "x.flac")
		if err := j.Write(path); err != nil {
			t.Fatal(err)
		}
		got := filesIn(t, dir)
		if !slices.Equal(got, want) || last != 1 {
			t.Errorf("stems %d: files %q, want %q; progress ends at %v", stems, got, want, last)
		}
		for _, f := range j.Files(path) {
			if !slices.Contains(want, filepath.Base(f)) {
				t.Errorf("stems %d: %s is announced and not written", stems, f)
			}
		}
	}
}

// TestCancelledStemsLeaveNothing gives up half-way.
func TestCancelledStemsLeaveNothing(t *testing.T) {
	enough := errors.New("enough")
	for _, stems := range []Stems{NoStems, DivisionStems, LayerStems} {
		j := demoJob(t)
		j.Stems = stems
		j.Progress = func(done float64) error {
			if done > 0.5 {
				return enough
			}
			return nil
		}
		dir := t.TempDir()
		if err := j.Write(filepath.Join(dir, "x.wav")); !errors.Is(err, enough) {
			t.Errorf("stems %d: %v", stems, err)
		}
		if left := filesIn(t, dir); len(left) != 0 {
			t.Errorf("stems %d: %q are left", stems, left)
		}
	}
}
