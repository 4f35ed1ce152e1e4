package paint

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestTupletsAreBracketedAsGroups writes each group as "number:start-end" in
// parts of a quarter times twelve.
func TestTupletsAreBracketedAsGroups(t *testing.T) {
	const q, third = project.Quarter, project.Quarter / 3
	for _, c := range []struct {
		name  string
		notes []project.Ticks // lengths from the bar's start; below zero a rest
		want  string
	}{
		{"eighths", []project.Ticks{third, third, third, q}, "3:0-12"},
		{"two beats of eighths", []project.Ticks{third, third, third, third, third, third}, "3:0-12 3:12-24"},
		{"quarters on the third beat", []project.Ticks{2 * q, 2 * third, 2 * third, 2 * third}, "3:24-48"},
		{"quarters on the second beat", []project.Ticks{q, 2 * third, 2 * third, 2 * third, q}, "3:12-36"},
		{"halves", []project.Ticks{4 * third, 4 * third, 4 * third}, "3:0-48"},
		{"eighths off the beat", []project.Ticks{q / 2, third, third, third, q / 2}, "3:6-18"},
		{"long and short", []project.Ticks{2 * third, third, q}, "3:0-12"},
		{"a rest at first", []project.Ticks{-third, third, third, q}, "3:0-12"},
		{"a rest in the middle", []project.Ticks{third, -third, third, q}, "3:0-12"},
		{"a rest at last", []project.Ticks{third, -2 * third, q}, "3:0-12"},
		{"alone", []project.Ticks{third}, "3:0-12"},
		{"sixteenths", []project.Ticks{q / 6, q / 6, q / 6, q / 2}, "3:0-6"},
		{"five", []project.Ticks{q / 5, q / 5, q / 5, q / 5, q / 5}, "5:0-12"},
		{"plain", []project.Ticks{q / 2, q, q / 4, q / 4, q / 8, q / 32}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := bracketsOf(t, c.notes); got != c.want {
				t.Errorf("brackets %q, want %q", got, c.want)
			}
		})
	}
}

func bracketsOf(t *testing.T, lengths []project.Ticks) string {
	t.Helper()
	chart, at := project.New(), project.Ticks(0)
	for i, d := range lengths {
		if d < 0 {
			at -= d
			continue
		}
		note := project.Note{Start: at, Duration: d, Pitch: theory.MustParsePitch([]string{"C5", "D5"}[i%2])}
		next, err := project.AddNote{Note: note}.Apply(chart)
		if err != nil {
			t.Fatal(err)
		}
		chart, at = next, at+d
	}
	l := LayoutGrid(arrange.Realise(chart, arrange.Options{}), GridOptions{Width: 1000})
	var out []string
	bar := &l.Bars[0]
	part := func(x float64) int { return int((x-bar.X-bar.before)/bar.musicWidth()*48 + 0.5) }
	for _, m := range l.Systems[0].tuplets {
		out = append(out, fmt.Sprintf("%d:%d-%d", m.number, part(m.x0), part(m.x1)))
	}
	return strings.Join(out, " ")
}
