package project_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

func TestNudges(t *testing.T) {
	for _, tt := range []struct {
		name   string
		starts []float64
		by     float64
		melody string // "" where something is in the way
		holds  string // of the error
	}{
		{"later into a rest", []float64{2}, 1, "C5@0+1 D5@1+1 E5@3+4 F#5@8+2", ""},
		{"later, cut by the next", []float64{1}, 0.5, "C5@0+1 D5@1.5+0.5 E5@2+4 F#5@8+2", ""},
		{"later up to the next", []float64{0}, 0.5, "C5@0.5+0.5 D5@1+1 E5@2+4 F#5@8+2", ""},
		{"later onto the next", []float64{1}, 1, "", "1.3: E5 is in the way"},
		{"later past the next", []float64{0}, 3, "", "1.2: D5 is in the way"},
		{"later until a sliver is left", []float64{0}, 0.9, "", "1.2: D5 is in the way"},
		{"earlier, cutting the one before", []float64{2}, -0.5, "C5@0+1 D5@1+0.5 E5@1.5+4 F#5@8+2", ""},
		{"earlier into a rest", []float64{8}, -1, "C5@0+1 D5@1+1 E5@2+4 F#5@7+2", ""},
		{"earlier onto the one before", []float64{1}, -1, "", "1.1: C5 is in the way"},
		{"earlier past the one before", []float64{8}, -7, "", "1.3: E5 is in the way"},
		{"two together", []float64{0, 1}, 0.5, "C5@0.5+1 D5@1.5+0.5 E5@2+4 F#5@8+2", ""},
		{"two apart", []float64{2, 0}, 0.5, "C5@0.5+0.5 D5@1+1 E5@2.5+4 F#5@8+2", ""},
		{"all", []float64{0, 1, 2, 8}, 22, "C5@22+1 D5@23+1 E5@24+4 F#5@30+2", ""},
		{"before the first bar", []float64{0}, -0.5, "", "before the first bar"},
		{"past the last bar", []float64{8}, 23, "", "past the last bar"},
		{"a rest", []float64{7}, 1, "", "no note starts here"},
		{"nothing", nil, 1, "", "no note is selected"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			e := project.NudgeNotes{By: ticks(tt.by)}
			for _, s := range tt.starts {
				e.Starts = append(e.Starts, ticks(s))
			}
			if tt.melody == "" {
				mustRefuse(t, tune(), e, tt.holds)
				return
			}
			if got := melodyText(mustApply(t, tune(), e)); got != tt.melody {
				t.Errorf("melody %s\n  want %s", got, tt.melody)
			}
		})
	}
	if got := pinsText(mustApply(t, tune(), project.NudgeNotes{Starts: []project.Ticks{q}, By: q / 2})); got != "D5@1.5" {
		t.Errorf("the pin of the moved note is %q", got)
	}
}

// A nudge loses no note and passes none: it moves exactly the chosen ones, cuts
// what sounds into the next start, or is refused because something would be left
// with less than a thirty-second.
func TestNudgesLoseNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Filter(func(c *project.Chart) bool { return len(c.Melody) > 0 }).Draw(t, "chart")
		var e project.NudgeNotes
		for _, n := range c.Melody {
			if rapid.Bool().Draw(t, "selected") {
				e.Starts = append(e.Starts, n.Start)
			}
		}
		if len(e.Starts) == 0 {
			e.Starts = []project.Ticks{c.Melody[0].Start}
		}
		e.By = project.Ticks(rapid.IntRange(-12, 12).Draw(t, "steps")) * rapid.SampledFrom([]project.Ticks{q, q / 2, q / 4, q / 3}).Draw(t, "grid")
		want := slices.Clone(c.Melody)
		for i, n := range want {
			if slices.Contains(e.Starts, n.Start) {
				want[i].Start += e.By
			}
		}
		fits := true
		for i := range want {
			n, end := &want[i], c.Length()
			if i+1 < len(want) {
				end = want[i+1].Start
			} else if n.End() > end {
				fits = false
			}
			room := end - n.Start
			fits = fits && n.Start >= 0 && room >= min(n.Duration, project.Whole/32)
			n.Duration = min(n.Duration, room)
		}
		d, err := apply(t, c, e, project.NoteSelection(e.Starts...))
		switch {
		case err == nil && fits:
			if !slices.Equal(d.Melody, want) {
				t.Fatalf("the melody is %v, want %v", d.Melody, want)
			}
		case err == nil:
			t.Fatalf("%v of %v by %d made %v", e.Starts, c.Melody, e.By, d.Melody)
		case fits:
			t.Fatalf("%v of %v by %d: %v", e.Starts, c.Melody, e.By, err)
		case !strings.Contains(err.Error(), "in the way") && !strings.Contains(err.Error(), "bar"):
			t.Fatal(err)
		}
	})
}
