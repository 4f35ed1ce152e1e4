package project_test

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
)

// TestMetersStandInGroups lists where groups of beats begin, in beats, how long the
// first half of a bar is, and the felt beat, in units.
func TestMetersStandInGroups(t *testing.T) {
	for _, c := range []struct {
		meter, groups string
		half, pulse   project.Ticks
	}{
		{"4/4", "", 2, 1},
		{"3/4", "", 2, 1},
		{"6/8", "", 3, 3},
		{"5/4", "0 3", 3, 1},
		{"2+3/4", "0 2", 2, 1},
		{"7/4", "0 4", 4, 1},
		{"7/8", "0 2 4", 4, 1},
		{"3+2+2/8", "0 3 5", 3, 1},
		{"2+2+2+3/8", "0 2 4 6", 4, 1},
		{"3+3+3/8", "0 3 6", 3, 3},
		{"3+3+2/8", "0 3 6", 3, 1},
	} {
		m, err := project.ParseMeter(c.meter)
		if err != nil {
			t.Fatal(err)
		}
		var groups []string
		for in := project.Ticks(0); in < m.Length(); in += m.Beat() / 2 {
			if m.StartsGroup(in) {
				groups = append(groups, fmt.Sprint(in/m.Beat()))
			}
		}
		if got := strings.Join(groups, " "); got != c.groups || m.IsGrouped() != (c.groups != "") {
			t.Errorf("%s: groups begin at %s, want %s", c.meter, got, c.groups)
		}
		if half, pulse := m.FirstHalf()/m.Beat(), m.Pulse()/m.Beat(); half != c.half || pulse != c.pulse {
			t.Errorf("%s: first half %d and felt beat %d, want %d and %d", c.meter, half, pulse, c.half, c.pulse)
		}
	}
}
