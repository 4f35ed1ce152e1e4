package reach

import "testing"

// TestArpeggiosGetTheirCustomaryFingers runs the triads whose roots are
// naturals two octaves up and down. Books take 3 or 4 for the middle key of a
// left hand that starts with 5.
func TestArpeggiosGetTheirCustomaryFingers(t *testing.T) {
	for _, root := range []int{48, 50, 52, 53, 55, 57} {
		for _, triad := range [][]int{{0, 4, 7}, {0, 3, 7}} {
			keys := upDown(root, 2, triad)
			if got := digits(fingersOf(RightHand, line(RightHand, 0.15, keys...))); got != "1231235321321" {
				t.Errorf("right hand from %s, %v: %s", keyName(root), triad, got)
			}
			if got := digits(fingersOf(LeftHand, line(LeftHand, 0.15, keys...))); got != "5321321231235" && got != "5421421241245" {
				t.Errorf("left hand from %s, %v: %s", keyName(root), triad, got)
			}
		}
	}
}

// TestChromaticScaleTakesOneAndThree holds all but the ends of the run, where
// a hand may start and turn as it likes: 3 on every sharp, 1 on naturals, and 2
// on one of two naturals that are neighbours. From C the whole run is that; of
// all runs, 98 notes in 100.
func TestChromaticScaleTakesOneAndThree(t *testing.T) {
	chromatic := []int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	bad, all := 0, 0
	for start := 48; start < 60; start++ {
		for _, limb := range []Limb{RightHand, LeftHand} {
			keys := upDown(start, 2, chromatic)
			got := fingersOf(limb, line(limb, 0.15, keys...))
			for i := 3; i < len(keys)-3; i++ {
				if distance(i, len(keys)/2) < 4 {
					continue
				}
				all++
				if !chromaticFinger(keys[i], got[i]) {
					bad++
					if start == 48 {
						t.Errorf("%v from C: %s has finger %d in %s", limb, keyName(keys[i]), got[i], digits(got))
					}
				}
			}
		}
	}
	if 50*bad > all {
		t.Errorf("%d of %d notes have other fingers than 1 and 3", bad, all)
	}
}

func chromaticFinger(key, finger int) bool {
	if isSharp(key) {
		return finger == 3
	}
	pc := pitchClass(key)
	pair := pc == 0 || pc == 4 || pc == 5 || pc == 11
	return finger == 1 || pair && finger == 2
}
