package arrange

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// sketch builds a chart from a line of notes and changes. Changes are
// "SYMBOL:beats"; notes are "PITCH:beats" or "r:beats", beats in quarters with
// fractions as decimals.
func sketch(t testing.TB, key, changes, melody string) *project.Chart {
	t.Helper()
	c := project.New()
	c.Key = theory.MustParseKey(key)
	at := project.Ticks(0)
	for _, w := range strings.Fields(changes) {
		sym, beats, _ := strings.Cut(w, "@")
		ch, err := theory.ParseChord(sym)
		if err != nil {
			t.Fatal(err)
		}
		c.Changes = append(c.Changes, project.Change{Start: at, Chord: ch})
		at += beatsOf(t, beats)
	}
	end := at
	at = 0
	for _, w := range strings.Fields(melody) {
		p, beats, _ := strings.Cut(w, "@")
		d := beatsOf(t, beats)
		if p != "r" {
			c.Melody = append(c.Melody, project.Note{Start: at, Duration: d, Pitch: theory.MustParsePitch(p)})
		}
		at += d
	}
	end = max(end, at)
	bars := int((end + project.Whole - 1) / project.Whole)
	c.Bars = nil
	for range max(bars, 1) {
		c.Bars = append(c.Bars, project.NewBar(project.CommonTime))
	}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func beatsOf(t testing.TB, s string) project.Ticks {
	t.Helper()
	var f float64
	if _, err := fmt.Sscanf(s, "%g", &f); err != nil {
		t.Fatalf("beats %q: %v", s, err)
	}
	return project.Ticks(f * float64(project.Quarter))
}

func TestPrintSketches(t *testing.T) {
	for _, s := range [][3]string{
		{"G minor", "Am7b5@4 D7@4 Gm6@8", "Eb5@1 D5@0.5 C5@0.5 A4@1 C5@1 Bb4@0.5 A4@0.5 F#4@0.5 G4@0.5 A4@1 C5@1 Bb4@2 A4@1 G4@1 G4@4"},
		{"C major", "Dm7@4 G7@4 Cmaj7@8", "F5@1 E5@0.5 D5@0.5 C5@0.5 B4@0.5 A4@0.5 C5@0.5 B4@1 D5@0.5 F5@0.5 E5@1 D5@1 E5@3 G5@1 B4@4"},
		{"C major", "C7@4 F7@4 C7@8", "E5@0.5 Eb5@0.5 E5@0.5 G5@0.5 A5@0.5 G5@0.5 E5@0.5 C5@0.5 Eb5@1.5 D5@0.5 C5@2 Bb4@1 C5@1 Eb5@0.5 E5@0.5 G5@1 C5@4"},
		{"F minor", "Gm7b5@4 C7@4 Fmaj7@4", "Db5@1 C5@1 Bb4@2 Ab4@1 G4@0.5 Ab4@0.5 Bb4@1 C5@1 A4@4"},
	} {
		r := Realise(sketch(t, s[0], s[1], s[2]), Options{})
		WriteLines(os.Stdout, Explain(r), 110)
		fmt.Println()
	}
}
