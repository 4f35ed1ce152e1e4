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
		{"tied from a half", []project.Ticks{2*q + third, third, third, q}, "3:24-36"},
		{"tied from a half, quarters", []project.Ticks{q + 2*third, 2 * third, 2 * third, q}, "3:12-36"},
		{"tied from an eighth", []project.Ticks{q/2 + q/6, q / 6, q / 6, q}, "3:6-12"},
		{"tied from a half into a rest", []project.Ticks{2*q + third, -2 * third, q}, "3:24-36"},
		{"tied to a half", []project.Ticks{third, third, third + 2*q}, "3:0-12"},
		{"tied to a half after a rest", []project.Ticks{-third, third, third + 2*q}, "3:0-12"},
		{"quarters tied to a quarter", []project.Ticks{2 * third, 2 * third, 2*third + q}, "3:0-24"},
		{"tied from one to another", []project.Ticks{2 * third, third + q + third, third, third}, "3:0-12 3:24-36"},
		{"five tied from a half", []project.Ticks{2*q + q/5, q / 5, q / 5, q / 5, q / 5}, "5:24-36"},
		{"nine", []project.Ticks{q / 9, q / 9, q / 9, q / 9, q / 9, q / 9, q / 9, q / 9, q / 9}, "9:0-12"},
		{"plain", []project.Ticks{q / 2, q, q / 4, q / 4, q / 8, q / 32}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := bracketsOf(t, c.notes); got != c.want {
				t.Errorf("brackets %q, want %q", got, c.want)
			}
		})
	}
}

// TestTupletsInCompoundMeters brackets what divides a dotted beat or an eighth
// otherwise than by three and two.
func TestTupletsInCompoundMeters(t *testing.T) {
	const q, e = project.Quarter, project.Quarter / 2
	const beat = 3 * e
	for _, c := range []struct {
		name  string
		notes []project.Ticks
		want  string
	}{
		{"eighths", []project.Ticks{e, e, e, q, e}, ""},
		{"a duplet is written as dotted eighths", []project.Ticks{beat / 2, beat / 2, beat}, ""},
		{"five to a beat", []project.Ticks{beat / 5, beat / 5, beat / 5, beat / 5, beat / 5, beat}, "5:0-18"},
		{"seven to the second beat", []project.Ticks{beat, beat / 7, beat / 7, beat / 7, beat / 7, beat / 7, 2 * beat / 7}, "7:18-36"},
		{"a triplet in an eighth", []project.Ticks{e, e / 3, e / 3, e / 3, e}, "3:6-12"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := bracketsIn(t, project.Meter{Beats: 6, Unit: 8}, c.notes); got != c.want {
				t.Errorf("brackets %q, want %q", got, c.want)
			}
		})
	}
}

func bracketsOf(t *testing.T, lengths []project.Ticks) string {
	t.Helper()
	return bracketsIn(t, project.CommonTime, lengths)
}

func bracketsIn(t *testing.T, meter project.Meter, lengths []project.Ticks) string {
	t.Helper()
	chart, at := project.New(), project.Ticks(0)
	for i := range chart.Bars {
		chart.Bars[i] = project.NewBar(meter)
	}
	whole := float64(12 * meter.Length() / project.Quarter)
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
	part := func(x float64) int { return int((x-bar.X-bar.before)/bar.musicWidth()*whole + 0.5) }
	for _, m := range l.placed(0).tuplets {
		out = append(out, fmt.Sprintf("%d:%d-%d", m.number, part(m.x0), part(m.x1)))
	}
	return strings.Join(out, " ")
}

// TestTupletBracketsClearTheirNotes writes the highest note of a chart as part
// of a tuplet: its name stays readable under the bracket at every row height.
func TestTupletBracketsClearTheirNotes(t *testing.T) {
	const third = project.Quarter / 3
	for _, row := range []float64{4, 6, 8, 12, 20} {
		chart := project.New()
		for i, pitch := range []string{"C5", "E5", "G6"} {
			next, err := project.AddNote{Note: project.Note{Start: project.Ticks(i) * third, Duration: third, Pitch: theory.MustParsePitch(pitch)}}.Apply(chart)
			if err != nil {
				t.Fatal(err)
			}
			chart = next
		}
		l := LayoutGrid(arrange.Realise(chart, arrange.Options{}), GridOptions{Width: 1000, RowHeight: row})
		s := l.placed(0)
		if len(s.tuplets) != 1 || len(s.leads) != 3 {
			t.Fatalf("rows of %v: %d brackets over %d notes", row, len(s.tuplets), len(s.leads))
		}
		if bottom, top := s.tuplets[0].y+tupletHeight, s.leads[2].Rect.Y; top < bottom {
			t.Errorf("rows of %v: the bracket ends at %v, the note under it starts at %v", row, bottom, top)
		}
	}
}
