package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"strings"
	"testing"
)

// chordCommand runs the command alone and returns its streams and error.
func chordCommand(args ...string) (stdout, stderr string, err error) {
	var out, errOut bytes.Buffer
	cmd := newChordCommand()
	cmd.SilenceUsage, cmd.SilenceErrors = true, true
	cmd.SetArgs(args)
	cmd.SetOut(&out)
	cmd.SetErr(&errOut)
	err = cmd.Execute()
	return out.String(), errOut.String(), err
}

func TestChordJSON(t *testing.T) {
	stdout, stderr, err := chordCommand("--json", "Cm7b5/Gb", "C7#q", "N.C.")
	if !errors.Is(err, errReported) || stderr != "" {
		t.Errorf("error %v, stderr %q; want the error reported in JSON alone", err, stderr)
	}
	lines := strings.Split(strings.TrimSpace(stdout), "\n")
	if len(lines) != 3 {
		t.Fatalf("%d lines for three symbols:\n%s", len(lines), stdout)
	}
	for _, want := range []string{
		`"symbol":"Cm7b5/Gb"`, `"printed":"Cm7b5/Gb"`, `"root":"C","bass":"Gb"`,
		`"tones":["C","Eb","Gb","Bb"],"pitchClasses":[0,3,6,10]`,
		`"families":[{"tonic":"Eb","sixth":"minor"}]`,
		`"home":"Ebm6","away":"Ddim7"`,
	} {
		if !strings.Contains(lines[0], want) {
			t.Errorf("%s\nlacks %s", lines[0], want)
		}
	}
	var bad chordErrorJSON
	if err := json.Unmarshal([]byte(lines[1]), &bad); err != nil {
		t.Fatal(err)
	}
	if bad.Symbol != "C7#q" || bad.At != 3 || bad.Error == "" {
		t.Errorf("unreadable symbol: %+v, want at 3", bad)
	}
	if want := `"tones":[],"pitchClasses":[],"families":[]`; !strings.Contains(lines[2], want) {
		t.Errorf("%s\nlacks %s", lines[2], want)
	}
}

func TestChordText(t *testing.T) {
	stdout, stderr, err := chordCommand("Gm7", "H7#q", "CΔ")
	if !errors.Is(err, errReported) {
		t.Errorf("error %v, want one that is reported already", err)
	}
	for _, want := range []string{"tones  G Bb D F", "home Bb6", "away Adim7", "CΔ  (written Cmaj7 here)"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("output lacks %q:\n%s", want, stdout)
		}
	}
	lines := strings.Split(strings.TrimRight(stderr, "\n"), "\n")
	if len(lines) != 3 || !strings.HasPrefix(lines[0], `organbook: chord "H7#q": `) || lines[2] != "  ^" {
		t.Errorf("stderr %q, want the sentence and a mark under the H", stderr)
	}
}

func TestChordNeedsASymbol(t *testing.T) {
	if _, _, err := chordCommand(); err == nil || errors.Is(err, errReported) {
		t.Errorf("no symbols: error %v, want a sentence", err)
	}
}
