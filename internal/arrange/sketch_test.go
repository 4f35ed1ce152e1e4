package arrange

import (
	"fmt"
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
