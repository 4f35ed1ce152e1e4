package arrange

import (
	"testing"

	"organbook/internal/project"
)

func TestAnticipation(t *testing.T) {
	for _, c := range []struct {
		name, changes, melody string
		note                  int
		want                  string
		anticipates           bool
	}{
		{"eighth tied over", "C6@4 F6@4", "C5@3.5 A4@4.5", 1, "F6", true},
		{"quarter tied over to as much", "C6@4 F6@4", "C5@3 A4@2 F4@3", 1, "F6", true},
		{"quarter tied over to less", "C6@4 F6@4", "C5@3 A4@1.5 F4@3.5", 1, "C6", false},
		{"half note from a strong beat", "C6@4 F6@4", "C5@2 A4@6", 1, "C6", false},
		{"whole note that spans two chords", "C6@2 F6@2 C6@4", "A4@4 G4@4", 0, "C6", false},
		{"eighth before a longer note", "C6@4 F6@4", "C5@3.5 B4@0.5 A4@4", 1, "F6", true},
		{"eighth before an equal note", "C6@4 F6@4", "C5@3.5 B4@0.5 A4@0.5 F4@3.5", 1, "C6", false},
		{"eighth before silence", "C6@4 F6@4", "C5@3.5 A4@0.5 r@2 F4@2", 1, "F6", true},
		{"eighth before a short rest", "C6@4 F6@4", "C5@3.5 A4@0.5 r@0.5 F4@3.5", 1, "C6", false},
		{"last note of the tune", "C6@4 F6@4", "C5@3.5 A4@0.5", 1, "F6", true},
		{"quarter on the last beat", "C6@4 F6@4", "C5@3 A4@1 F4@4", 1, "C6", false},
		{"first of two sixteenths", "C6@4 F6@4", "C5@3.5 B4@0.25 A4@0.25 F4@4", 1, "C6", false},
		{"second of two sixteenths", "C6@4 F6@4", "C5@3.5 B4@0.25 A4@0.25 F4@4", 2, "F6", true},
		{"before a change in mid-bar", "C6@2 F6@6", "C5@1.5 A4@2.5 F4@4", 1, "F6", true},
		{"a note of the old chord alone", "C6@4 F6@4", "C5@3.5 E5@0.5 A4@4", 1, "C6", false},
		{"a note of both chords", "C6@4 F6@4", "E5@3.5 A4@0.5 C5@4", 1, "F6", true},
		{"a note of the old chord, tied over", "C6@4 F6@4", "C5@3.5 E5@4.5", 1, "F6", true},
		{"into no chord", "C6@4 N.C.@4", "C5@3.5 A4@4.5", 1, "C6", false},
		{"tied only a moment into a short chord", "C6@4 F6@0.25 G7@3.75", "C5@3.5 A4@4.5", 1, "C6", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			st := Realise(sketch(t, "C major", c.changes, c.melody), Options{}).Steps[c.note]
			if st.Chord.String() != c.want || st.Anticipates != c.anticipates {
				t.Errorf("takes %v (anticipates %v), want %s", st.Chord, st.Anticipates, c.want)
			}
		})
	}
}

// TestAnticipationInCompoundTime takes the dotted quarter as the beat.
func TestAnticipationInCompoundTime(t *testing.T) {
	c := sketch(t, "C major", "C6@3 F6@3", "C5@2 A4@4")
	six := project.Meter{Beats: 6, Unit: 8}
	c.Bars = []project.Bar{project.NewBar(six), project.NewBar(six)}
	if st := Realise(c, Options{}).Steps[1]; !st.Anticipates {
		t.Error("an eighth and a dotted half tied over the bar of 6/8 does not anticipate")
	}
}
