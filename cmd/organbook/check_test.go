package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// chartFile writes a chart with one whole note a bar and returns its path.
func chartFile(t *testing.T, tempo float64, pitches ...string) string {
	t.Helper()
	c := project.New()
	c.Tempo = tempo
	c.Changes = []project.Change{{Start: 0, Chord: theory.MustParseChord("C6")}}
	for i, p := range pitches {
		c.Melody = append(c.Melody, project.Note{
			Start: project.Ticks(i) * project.Whole, Duration: project.Whole, Pitch: theory.MustParsePitch(p),
		})
	}
	path := filepath.Join(t.TempDir(), "tune.organbook")
	if err := project.Save(path, c); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestCheckExitCodes(t *testing.T) {
	playable := chartFile(t, 100, "C5", "E5", "G5")
	tooHigh := chartFile(t, 100, "C5", "E7")
	notAChart := filepath.Join(t.TempDir(), "note.organbook")
	if err := os.WriteFile(notAChart, []byte("not a chart"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name     string
		args     []string
		code     int
		out, err string
	}{
		{"playable", []string{"check", playable}, exitOK, "Everything can be played.", ""},
		{"out of reach", []string{"check", tooHigh}, exitOutOfReach, "E7 is off the upper manual", ""},
		{"a way out", []string{"check", tooHigh}, exitOutOfReach, "play an octave lower", ""},
		{"other bars", []string{"check", tooHigh, "--bars", "1"}, exitOK, "Everything can be played.", ""},
		{"damaged file", []string{"check", notAChart}, exitUnusable, "", "organbook: "},
		{"no file", []string{"check"}, exitUnusable, "", "check needs one chart"},
		{"unknown hands", []string{"check", playable, "--hands", "huge"}, exitUnusable, "", "expected one of small, medium, large"},
		{"no such speed", []string{"check", playable, "--speed", "9"}, exitUnusable, "", "not between 0.3 and 2.0"},
	} {
		var out, errs bytes.Buffer
		if code := run(c.args, &out, &errs); code != c.code {
			t.Errorf("%s: exit code %d, not %d: %s%s", c.name, code, c.code, out.String(), errs.String())
		}
		if !strings.Contains(out.String(), c.out) || !strings.Contains(errs.String(), c.err) {
			t.Errorf("%s: printed %q and %q", c.name, out.String(), errs.String())
		}
	}
}

func TestCheckJSON(t *testing.T) {
	var out, errs bytes.Buffer
	if code := run([]string{"check", chartFile(t, 100, "C5", "E7"), "--json"}, &out, &errs); code != exitOutOfReach {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	var got struct {
		Format   string
		Playable bool
		Findings []struct {
			Bar                  int
			Beat                 float64
			Limb, Severity, Kind string
			Keys                 []int
			Remedies             []string
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil {
		t.Fatal(err)
	}
	if got.Format != "organbook-reach" || got.Playable || len(got.Findings) != 1 {
		t.Fatalf("%+v", got)
	}
	f := got.Findings[0]
	if f.Bar != 2 || f.Beat != 1 || f.Limb != "right hand" || f.Severity != "unplayable" || f.Kind != "compass" ||
		len(f.Keys) != 1 || f.Keys[0] != 100 || len(f.Remedies) == 0 {
		t.Errorf("%+v", f)
	}
}
