package project_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

func TestTranspose(t *testing.T) {
	d := mustApply(t, tune(), project.TransposeChart{By: theory.MinorThird})
	if melodyText(d) != "Eb5@0+1 F5@1+1 G5@2+4 A5@8+2" || changesText(d) != "Eb6@0 Fm7@4 Bb7@6 Eb6@8" ||
		d.Key.String() != "Eb major" || pinsText(d) != "F5@1" || d.Pins[0].Voices[2].String() != "Cb5" {
		t.Errorf("%v: %s, %s, %v", d.Key, melodyText(d), changesText(d), d.Pins)
	}
	mustRefuse(t, tune(), project.TransposeChart{By: theory.NewInterval(35, 60)}, "range of keys")
}

// A chart goes to a key the smaller way, keeps its mode and finds a signature there.
func TestIntervalTo(t *testing.T) {
	for _, tc := range []struct {
		from, to string
		want     int
		refused  string
	}{
		{"C major", "Eb major", 3, ""}, {"C major", "A major", -3, ""}, {"C major", "F# major", 6, ""}, {"C major", "C major", 0, ""},
		{"G minor", "Eb minor", -4, ""}, {"G minor", "D minor", -5, ""},
		{"G minor", "Eb major", 0, "the chart is in G minor, and moving it keeps its mode; ask for a minor key"},
		{"C major", "G# major", 0, "G# major has no key signature; ask for Ab major"},
		{"G minor", "Fb minor", 0, "Fb minor has no key signature; ask for E minor"},
	} {
		c := *tune()
		c.Key = theory.MustParseKey(tc.from)
		by, err := c.IntervalTo(theory.MustParseKey(tc.to))
		switch {
		case tc.refused != "" && (err == nil || err.Error() != tc.refused):
			t.Errorf("%s to %s is refused with %v, want %s", tc.from, tc.to, err, tc.refused)
		case tc.refused == "" && (err != nil || by.Semitones() != tc.want):
			t.Errorf("%s to %s goes by %d semitones, %v; want %d", tc.from, tc.to, by.Semitones(), err, tc.want)
		}
	}
}

// A stretch whose key has no signature is written in the enharmonic key.
func TestTransposeIntoUnprintableKeys(t *testing.T) {
	c := tune()
	c.Bars = slices.Clone(c.Bars)
	c.Bars[2].Key = theory.MustParseKey("E major")
	d := mustApply(t, c, project.TransposeChart{By: theory.MajorThird})
	if d.Key.String() != "E major" || d.Bars[2].Key.String() != "Ab major" {
		t.Errorf("keys %v and %v", d.Key, d.Bars[2].Key)
	}
	if got := melodyText(d); got != "E5@0+1 F#5@1+1 G#5@2+4 Bb5@8+2" {
		t.Errorf("melody %s", got)
	}
	if got := changesText(d); got != "E6@0 F#m7@4 B7@6 Fb6@8" {
		t.Errorf("changes %s", got)
	}
}

// Every sounding key moves by the same number of semitones, and moving back
// restores them.
func TestTransposeMovesEverythingAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		by := projecttest.Intervals().Draw(t, "interval")
		d, err := apply(t, c, project.TransposeChart{By: by}, project.Selection{})
		if err != nil {
			t.Fatal(err)
		}
		for i, n := range c.Melody {
			if got := d.Melody[i].Pitch.Key() - n.Pitch.Key(); got != by.Semitones() {
				t.Fatalf("note %d moved by %d, want %d", i, got, by.Semitones())
			}
		}
		for i, p := range c.Pins {
			for k, v := range p.Voices {
				if got := d.Pins[i].Voices[k].Key() - v.Key(); got != by.Semitones() {
					t.Fatalf("voice %d of pin %d moved by %d", k, i, got)
				}
			}
		}
		for i, x := range c.Changes {
			if x.Chord.IsNone() {
				continue
			}
			moved := d.Changes[i].Chord
			if got := (moved.Root().PC() - x.Chord.Root().PC() - by.Semitones()) % 12; got != 0 || moved.Quality() != x.Chord.Quality() {
				t.Fatalf("%v became %v", x.Chord, moved)
			}
		}
		back, err := d.Transpose(by.Invert())
		if err != nil || !slices.EqualFunc(back.Melody, c.Melody, func(a, b project.Note) bool { return a.Pitch.Key() == b.Pitch.Key() }) {
			t.Fatalf("moving back does not restore the melody: %v", err)
		}
	})
}
