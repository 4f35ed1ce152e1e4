package ui

import (
	"strings"
	"testing"

	"organbook/internal/theory"
)

// TestKeysAreReadAsTheyAreShown shows every key in both languages and reads it again,
// and reads other ways to write one.
func TestKeysAreReadAsTheyAreShown(t *testing.T) {
	check := func() {
		t.Helper()
		for _, tonic := range []string{"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"} {
			for _, mode := range []string{" major", " minor"} {
				k := theory.MustParseKey(tonic + mode)
				if got, err := readTonality(tonalityText(k)); err != nil || got != k {
					t.Errorf("%s is shown as %q and read as %v, %v", k, tonalityText(k), got, err)
				}
			}
		}
		for text, want := range map[string]string{"Gm": "G minor", " Bb ": "Bb major", "F# minor": "F# minor"} {
			if got, err := readTonality(text); err != nil || got != theory.MustParseKey(want) {
				t.Errorf("%q is read as %v, %v", text, got, err)
			}
		}
	}
	check()
	inGerman(t)
	check()
	if got := tonalityText(theory.MustParseKey("G minor")); got != "G-Moll" {
		t.Errorf("in German G minor is %q", got)
	}
	for text, want := range map[string]string{"G-Moll": "G minor", "Bb Dur": "Bb major", "Es-Dur": "", "Moll": "", "G minor": "G minor", "C#-MOLL": "C# minor"} {
		got, err := readTonality(text)
		if want == "" && err == nil || want != "" && (err != nil || got != theory.MustParseKey(want)) {
			t.Errorf("%q is read as %v, %v; want %q", text, got, err, want)
		}
	}
	if _, err := readTonality("H"); err == nil || !strings.HasPrefix(tr(err.Error()), "Tonart ") {
		t.Errorf("what is no key is refused with %q", tr(err.Error()))
	}
}
