package reach

import (
	"testing"

	"pgregory.net/rapid"
)

func pedalled(profile Profile, notes []Note) ([]tread, *feet) {
	for i := range notes {
		notes[i].Division = Pedal
	}
	f := newFeet(notes, allOf(notes), FullConsole, profile)
	t, _ := f.solve()
	return t, f
}

func footText(treads []tread) string {
	out := ""
	for _, t := range treads {
		out += string("LR"[t[0].foot]) + string(" th"[t[0].part])
	}
	return out
}

func TestPedalScalesAlternateToes(t *testing.T) {
	for start := 36; start < 48; start++ {
		for mode, steps := range scaleSteps {
			treads, _ := pedalled(DefaultProfile(), line(LeftFoot, 0.4, upDown(start, 1, steps)...))
			for i, tr := range treads {
				if tr[0].part != Toe || i > 0 && tr[0].foot == treads[i-1][0].foot {
					t.Errorf("%s from %d %s: %s", keyName(start), start, mode, footText(treads))
					break
				}
			}
		}
	}
}

func TestLeftFootAloneNeverNeedsTheRight(t *testing.T) {
	p := DefaultProfile()
	p.Feet = LeftOnly
	for start := 36; start < 48; start++ {
		treads, _ := pedalled(p, line(LeftFoot, 0.4, upDown(start, 1, scaleSteps["major"])...))
		for _, tr := range treads {
			if tr[0].foot != 0 {
				t.Fatalf("from %d: %s", start, footText(treads))
			}
		}
	}
	if treads, _ := pedalled(p, line(LeftFoot, 0.4, 36, 38, 40, 41, 43)); footText(treads) != "LtLhLtLhLt" {
		t.Errorf("toe and heel do not take turns: %s", footText(treads))
	}
}

func TestFeetKeepTheirRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(12).Draw(t, "notes")
		for i := range notes {
			notes[i].Division, notes[i].Limb, notes[i].Key = Pedal, LeftFoot, 36+notes[i].Key%25
		}
		p := anyProfile(t)
		r := Check(Piece{Console: FullConsole, Profile: p, Notes: cutRepeats(notes)})
		for i, m := range r.Marks {
			if m.Part == Heel && isSharp(notes[i].Key) {
				t.Fatalf("a heel on %s", keyName(notes[i].Key))
			}
			if p.Feet == LeftOnly && m.Foot == RightFoot {
				t.Fatalf("the right foot takes %s", keyName(notes[i].Key))
			}
			if m.Finger != 0 {
				t.Fatal("a finger on a pedal")
			}
		}
	})
}

func TestCrossingsSayWhere(t *testing.T) {
	notes := line(LeftFoot, 0.4, 36, 38, 40, 42, 43, 45)
	for i := range notes {
		notes[i].Division = Pedal
	}
	r := Check(Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes})
	for i, m := range r.Marks[1:] {
		left, before := m.Foot == LeftFoot, r.Marks[i]
		if m.Foot == before.Foot {
			t.Fatalf("note %d: the same foot again", i+1)
		}
		if left != (m.Cross != NoCross) { // going up, the left foot crosses
			t.Errorf("%s by the %v: crosses %q", keyName(notes[i+1].Key), m.Foot, m.Cross)
		}
		if left && !isSharp(notes[i+1].Key) && m.Cross != Behind {
			t.Errorf("%s: passes %v", keyName(notes[i+1].Key), m.Cross)
		}
	}
}

// TestLinesBeginOnTheFootsOwnSide holds lines that turn, where toes in turn would
// cross less begun by the other foot.
func TestLinesBeginOnTheFootsOwnSide(t *testing.T) {
	for _, c := range []struct {
		keys []int
		want string
	}{
		{[]int{36, 40, 43, 45, 46, 45, 43, 40}, "LtRtLtRtLtRtLtRt"},
		{[]int{36, 39, 43, 46, 48}, "LtRtLtRtLt"},
		{[]int{60, 57, 53}, "RtLtRt"},
		{[]int{48, 50}, "LtRt"},
		{[]int{46, 45, 44, 43}, "RtLtRtLt"}, // a fall from near the middle crosses less begun by the right
	} {
		treads, _ := pedalled(DefaultProfile(), line(LeftFoot, 0.4, c.keys...))
		if got := footText(treads); got != c.want {
			t.Errorf("%v: %s, want %s", c.keys, got, c.want)
		}
	}
}

// TestTheRightFootIsOnTheSwell plays a scale over a swell that glides in its middle:
// there the left foot has every pedal, elsewhere both have some, and a line that is
// pedalled already is pedalled anew.
func TestTheRightFootIsOnTheSwell(t *testing.T) {
	var notes []Note
	for i := range 12 {
		at := Ticks(i * 480)
		notes = append(notes, Note{Start: float64(i), End: float64(i + 1), At: at, Until: at + 480, Key: 36 + i, Division: Pedal, Limb: LeftFoot})
	}
	swelling := Span{At: 4 * 480, Until: 8 * 480}
	p := Piece{Console: FullConsole, Profile: DefaultProfile(), Notes: notes}
	before := Check(p)
	p.Swelling = []Span{swelling}
	after := CheckAfter(before, p)
	feet := map[bool]map[Limb]int{false: {}, true: {}}
	for i, m := range after.Marks {
		feet[notes[i].At >= swelling.At && notes[i].At < swelling.Until][m.Foot]++
	}
	if feet[true][RightFoot] != 0 || feet[true][LeftFoot] != 4 || feet[false][RightFoot] == 0 {
		t.Errorf("while the swell glides: %v; else: %v", feet[true], feet[false])
	}
}
