package reach

import "testing"

// blocks strikes whole chords one after the other.
func blocks(limb Limb, seconds float64, chords ...[]int) []Note {
	var out []Note
	for i, c := range chords {
		for _, k := range c {
			out = append(out, Note{
				Start: float64(i) * seconds, End: float64(i+1) * seconds,
				At: Ticks(i) * 5040, Until: Ticks(i+1) * 5040, Key: k, Limb: limb,
			})
		}
	}
	return out
}

func TestCloseBlocksGetAHandsShape(t *testing.T) {
	for _, shape := range [][]int{{0, 4, 7, 9}, {0, 3, 5, 8}, {0, 2, 5, 9}, {0, 3, 7, 10}, {0, 3, 7, 9}, {0, 4, 6, 9}, {0, 2, 5, 8}, {0, 3, 6, 10}, {0, 3, 6, 9}} {
		for root := 60; root < 72; root++ {
			var c []int
			for _, s := range shape {
				c = append(c, root+s)
			}
			for limb, teachers := range map[Limb][2]string{RightHand: {"1235", "1245"}, LeftHand: {"5321", "5421"}} {
				got := digits(fingersOf(limb, blocks(limb, 0.3, c)))
				if got != teachers[0] && got != teachers[1] {
					t.Errorf("%v on %d, %v: %s", shape, root, limb, got)
				}
			}
		}
	}
}
