package session

import (
	"strings"
	"testing"

	"organbook/internal/project"
)

// TestCompletionsGoOnFromWhatIsTyped asks for what a chart and custom offer.
func TestCompletionsGoOnFromWhatIsTyped(t *testing.T) {
	s, _ := fresh(t, "F")
	for i, c := range []string{"Gm7", "C7b9", "Gm9", "C13", "C13", "Bb6/D"} {
		if err := s.SetChordText(project.Ticks(i)*project.Whole, c); err != nil {
			t.Fatal(err)
		}
	}
	for typed, want := range map[string]string{
		"":       "",
		"x":      "",
		" ":      "",
		"C":      "C13 C7b9 Cm7 C7",
		"c":      "C13 C7b9 C Cm7",
		"C7":     "C7b9 C7sus4 C7#11 C7#5",
		"C7b":    "C7b9 C7b5",
		"Gm":     "Gm7 Gm9 Gmaj7 Gm6",
		"gm7b":   "Gm7b5",
		"B♭":     "Bb6/D Bbm7 Bb7 Bbmaj7",
		"Eb":     "Ebm7 Eb7 Ebmaj7 Eb6",
		"F7/":    "F7/A F7/C F7/Eb",
		"F7/E":   "F7/Eb",
		"C13":    "C13b9",
		"Bb6/D":  "",
		"Cmaj7x": "",
	} {
		var got []string
		for _, r := range s.Completions(typed, 4) {
			got = append(got, r.Chord.String())
			if !strings.HasPrefix(r.Means, r.Chord.Pretty()) {
				t.Errorf("%s is said to mean %q", r.Chord, r.Means)
			}
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q goes on as %v, want %s", typed, got, want)
		}
	}
}
