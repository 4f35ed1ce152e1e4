package reach

import "testing"

var triads = map[string][]int{"major": {0, 4, 7}, "minor": {0, 3, 7}}

// sharpsOf counts the sharps of a triad.
func sharpsOf(root int, mode string) (n int) {
	for _, step := range triads[mode] {
		if isSharp(root + step) {
			n++
		}
	}
	return n
}

// TestArpeggiosGetTheirCustomaryFingers runs the triads in which the hand keeps
// its shape from thumb to thumb, those on naturals and those of three sharps,
// two octaves up and down. Books take 3 or 4 for the middle key of a left hand
// that starts with 5.
func TestArpeggiosGetTheirCustomaryFingers(t *testing.T) {
	for root := 48; root < 60; root++ {
		for mode, triad := range triads {
			if isSharp(root) && sharpsOf(root, mode) < 3 {
				continue
			}
			keys := upDown(root, 2, triad)
			if got := digits(fingersOf(RightHand, line(RightHand, 0.15, keys...))); got != "1231235321321" {
				t.Errorf("right hand from %s %s: %s", keyName(root), mode, got)
			}
			if got := digits(fingersOf(LeftHand, line(LeftHand, 0.15, keys...))); got != "5321321231235" && got != "5421421241245" {
				t.Errorf("left hand from %s %s: %s", keyName(root), mode, got)
			}
		}
	}
}

// TestArpeggiosOnSharpsTurnOnNaturals runs the other triads on sharps: the thumb
// takes one natural in each octave, as books have it. The top note and the
// first are the hand's ends and free.
func TestArpeggiosOnSharpsTurnOnNaturals(t *testing.T) {
	for root := 48; root < 60; root++ {
		for mode, triad := range triads {
			if !isSharp(root) || sharpsOf(root, mode) == 3 {
				continue
			}
			keys := upDown(root, 2, triad)
			for _, limb := range []Limb{RightHand, LeftHand} {
				checkThumbs(t, limb, keys, fingersOf(limb, line(limb, 0.15, keys...)))
			}
		}
	}
}

// checkThumbs holds two octaves of a triad, up, to one thumb an octave, on the
// same natural.
func checkThumbs(t *testing.T, limb Limb, keys, got []int) {
	t.Helper()
	var thumbs []int
	for i, key := range keys[:7] {
		if got[i] == 1 {
			thumbs = append(thumbs, key)
		}
	}
	if len(thumbs) != 2 || isSharp(thumbs[0]) || thumbs[1] != thumbs[0]+12 {
		t.Errorf("%v from %s: the thumb takes %v in %s", limb, keyName(keys[0]), thumbs, digits(got))
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

// TestSeventhArpeggios runs the chords of the seventh through two octaves. From a
// natural the right hand turns at the octave, with one finger a key, as books have
// it. Everywhere no finger takes two keys in a row, and none but the thumb crosses.
func TestSeventhArpeggios(t *testing.T) {
	for name, chord := range map[string][]int{
		"dominant": {0, 4, 7, 10}, "diminished": {0, 3, 6, 9}, "major": {0, 4, 7, 11}, "minor": {0, 3, 7, 10},
	} {
		for root := 48; root < 60; root++ {
			keys := upDown(root, 2, chord)
			for _, limb := range []Limb{RightHand, LeftHand} {
				got := fingersOf(limb, line(limb, 0.15, keys...))
				if why := unplayed(limb, keys, got); why != "" {
					t.Errorf("%v, %s seventh from %s: %s in %s", limb, name, keyName(root), why, digits(got))
				}
				if limb == RightHand && !isSharp(root) && digits(got) != "12341234543214321" {
					t.Errorf("%v, %s seventh from %s: %s", limb, name, keyName(root), digits(got))
				}
			}
		}
	}
}

// unplayed says what no teacher would let pass in the fingers of a line.
func unplayed(limb Limb, keys, got []int) string {
	for i := 1; i < len(got); i++ {
		up := keys[i] > keys[i-1]
		if limb == LeftHand {
			up = !up
		}
		switch a, b := got[i-1], got[i]; {
		case a == b:
			return "a finger takes two keys in a row"
		case a != 1 && b != 1 && (b > a) != up:
			return "two fingers cross"
		}
	}
	return ""
}

// TestTheThumbStaysOffSharpsInArpeggios looks at all but the ends, where a hand
// may start and turn as it likes.
func TestTheThumbStaysOffSharpsInArpeggios(t *testing.T) {
	for name, chord := range map[string][]int{"dominant": {0, 4, 7, 10}, "diminished": {0, 3, 6, 9}} {
		for root := 48; root < 60; root++ {
			keys := upDown(root, 2, chord)
			for _, limb := range []Limb{RightHand, LeftHand} {
				got := fingersOf(limb, line(limb, 0.15, keys...))
				for i, f := range got {
					if f == 1 && isSharp(keys[i]) && i > 0 && i != len(got)/2 && i+1 < len(got) {
						t.Errorf("%v, %s seventh from %s: the thumb is on %s in %s", limb, name, keyName(root), keyName(keys[i]), digits(got))
						break
					}
				}
			}
		}
	}
}
