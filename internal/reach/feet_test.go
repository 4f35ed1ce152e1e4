package reach

import (
	"fmt"
	"testing"
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
	treads, _ := pedalled(p, line(LeftFoot, 0.4, 36, 38, 40, 41, 43))
	fmt.Println(footText(treads))
}
