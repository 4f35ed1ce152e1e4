package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/theory"
)

// TestTransposingKeepsTheMode: a tonic alone is a key of the chart's mode, and another
// mode is refused in the words of the command line.
func TestTransposingKeepsTheMode(t *testing.T) {
	for text, want := range map[string]string{"Eb": "Eb minor", "a": "A minor", "C#m": "C# minor", "Eb major": "", "Fb": ""} {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720)) // the demo, in G minor
		before := w.session.Chart()
		w.run("chart.transpose")
		w.win.Canvas().Focused().(*escEntry).SetText(text)
		press(w, fyne.KeyReturn)
		if got := w.session.Chart().Key.String(); want != "" && got != want {
			t.Errorf("%q transposes to %s, want %s", text, got, want)
		}
		if said := w.session.Message(); want != "" && said != "The chart is in "+want+" now." {
			t.Errorf("%q answers %q", text, said)
		}
		if want == "" && !w.session.Chart().Equal(before) {
			t.Errorf("%q is not refused", text)
		}
	}
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	if err := w.session.Transpose(theory.MustParseKey("G minor"), 1); err != nil || strings.Contains(w.session.Message(), "now") {
		t.Errorf("an octave higher, in the same key, it says %q (%v)", w.session.Message(), err)
	}
	err := w.session.Transpose(theory.MustParseKey("Eb major"), 0)
	if want := "the chart is in G minor, and moving it keeps its mode; ask for a minor key"; err == nil || err.Error() != want {
		t.Errorf("refused with %v, want %s", err, want)
	}
}

// TestKeysAreReadAsTheyAreShown shows every key in both languages and reads it again,
// and reads other ways to write one.
func TestKeysAreReadAsTheyAreShown(t *testing.T) {
	check := func() {
		t.Helper()
		for _, tonic := range []string{"C", "Db", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"} {
			for _, mode := range []string{" major", " minor"} {
				k := theory.MustParseKey(tonic + mode)
				if got, err := readTonality(tonalityText(k), theory.Minor); err != nil || got != k {
					t.Errorf("%s is shown as %q and read as %v, %v", k, tonalityText(k), got, err)
				}
			}
		}
		for text, want := range map[string]string{"Gm": "G minor", " Bb ": "Bb major", "F# minor": "F# minor"} {
			if got, err := readTonality(text, theory.Major); err != nil || got != theory.MustParseKey(want) {
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
		got, err := readTonality(text, theory.Major)
		if want == "" && err == nil || want != "" && (err != nil || got != theory.MustParseKey(want)) {
			t.Errorf("%q is read as %v, %v; want %q", text, got, err, want)
		}
	}
	if _, err := readTonality("H", theory.Major); err == nil || !strings.HasPrefix(tr(err.Error()), "Tonart ") {
		t.Errorf("what is no key is refused with %q", tr(err.Error()))
	}
}
