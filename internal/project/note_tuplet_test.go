package project_test

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestTupletsTakeTheTimeOfPlainNotes(t *testing.T) {
	common, six8 := project.CommonTime, project.Meter{Beats: 6, Unit: 8}
	for _, tc := range []struct {
		n, simple, compound int
	}{{1, 0, 0}, {2, 0, 3}, {3, 2, 2}, {4, 2, 3}, {5, 4, 3}, {6, 4, 3}, {7, 4, 6}, {9, 8, 6}} {
		if got := project.TupletIn(tc.n, common); got.M != tc.simple {
			t.Errorf("%d in 4/4 take the time of %d, want %d", tc.n, got.M, tc.simple)
		}
		if got := project.TupletIn(tc.n, six8); got.M != tc.compound {
			t.Errorf("%d in 6/8 take the time of %d, want %d", tc.n, got.M, tc.compound)
		}
	}
	if got := project.TupletIn(5, common).Of(q / 2); got*5 != 2*q {
		t.Errorf("five eighths of a quintuplet last %d", got*5)
	}
	if got := project.TupletIn(2, six8).Of(q / 2); got*2 != q*3/2 {
		t.Errorf("a duplet of eighths lasts %d", got*2)
	}
}

// TestTupletsAreExact holds for every value, dotted or not, down to the
// thirty-second.
func TestTupletsAreExact(t *testing.T) {
	for _, m := range []project.Meter{project.CommonTime, {Beats: 12, Unit: 8}} {
		for n := 2; n <= 9; n++ {
			tuplet := project.TupletIn(n, m)
			if n == 8 || tuplet.IsZero() {
				continue
			}
			for value := project.Ticks(1); value <= 32; value *= 2 {
				if plain := project.Whole / value; tuplet.Of(plain)*project.Ticks(n) != plain*project.Ticks(tuplet.M) {
					t.Errorf("%v of 1/%d is not exact", tuplet, value)
				}
			}
		}
	}
}

func TestEvenNotesMakesATuplet(t *testing.T) {
	c := project.New()
	c.Melody = []project.Note{note(0, 0.5, "C5"), note(0.5, 0.5, "D5"), note(1, 0.25, "E5"), note(1.25, 0.25, "F5"), note(1.75, 0.25, "G5"), note(4, 1, "A5")}
	c.Pins = []project.Pin{pin(1.75, "G5", "E5", "C5", "A4")}
	e := project.EvenNotes{Starts: []project.Ticks{0, ticks(0.5), ticks(1), ticks(1.25), ticks(1.75)}}
	d, err := apply(t, c, e, project.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	for i, n := range d.Melody[:5] {
		if n.Start != ticks(0.4)*project.Ticks(i) || n.Duration != ticks(0.4) || n.Pitch != c.Melody[i].Pitch {
			t.Errorf("note %d is %+v", i, n)
		}
	}
	if len(d.Pins) != 1 || d.Pins[0].Start != ticks(1.6) {
		t.Errorf("the pin follows its note: %+v", d.Pins)
	}
}

func TestEvenNotesRefuses(t *testing.T) {
	c := tune()
	for name, starts := range map[string][]project.Ticks{
		"nothing": nil, "one note": {0}, "notes with another between": {0, ticks(2)}, "no note": {0, 5},
	} {
		if _, err := apply(t, c, project.EvenNotes{Starts: starts}, project.Selection{}); err == nil {
			t.Errorf("%s is spread evenly", name)
		}
	}
}

func TestDivideNotes(t *testing.T) {
	d, err := apply(t, tune(), project.DivideNotes{Starts: []project.Ticks{ticks(1), ticks(8)}, Parts: 3}, project.Selection{})
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Melody) != 8 || d.Melody[1].Duration != q/3 || d.Melody[3] != (project.Note{Start: ticks(1) + 2*q/3, Duration: q / 3, Pitch: tune().Melody[1].Pitch}) {
		t.Errorf("%+v", d.Melody)
	}
	if len(d.Pins) != 1 {
		t.Error("the first part keeps the pin")
	}
	for _, parts := range []int{-1, 0, 1, 11, 10080} {
		if _, err := apply(t, tune(), project.DivideNotes{Starts: []project.Ticks{ticks(1)}, Parts: parts}, project.Selection{}); err == nil {
			t.Errorf("divided into %d", parts)
		}
	}
}

// TestDividingAndJoiningAgree divides any note that divides and joins the
// parts: the melody is as before.
func TestDividingAndJoiningAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Filter(func(c *project.Chart) bool { return len(c.Melody) > 0 }).Draw(t, "chart")
		n := rapid.SampledFrom(c.Melody).Draw(t, "note")
		parts := rapid.IntRange(2, 9).Draw(t, "parts")
		d, err := project.DivideNotes{Starts: []project.Ticks{n.Start}, Parts: parts}.Apply(c)
		if err != nil {
			t.Skip(err)
		}
		var starts []project.Ticks
		for _, m := range d.Melody {
			if m.Start >= n.Start && m.Start < n.End() {
				starts = append(starts, m.Start)
			}
		}
		back, err := project.JoinNotes{Starts: starts}.Apply(d)
		if err != nil {
			t.Fatal(err)
		}
		if len(starts) != parts || len(back.Melody) != len(c.Melody) {
			t.Fatalf("%d parts, %d notes of %d", len(starts), len(back.Melody), len(c.Melody))
		}
		for i, m := range back.Melody {
			if m != c.Melody[i] {
				t.Fatalf("note %d is %+v, was %+v", i, m, c.Melody[i])
			}
		}
	})
}
