package reach

import (
	"fmt"
	"strings"
	"testing"
)

// The customary fingerings of the scales, one octave with its top note, as
// method books of the piano and organ print them. Where the books differ, at
// the first or last note of scales that start on a sharp, all are listed,
// separated by a slash after the scale's number. Minor scales are harmonic.
var scales = []struct {
	tonic, mode string
	right, left string
}{
	{"C", "major", "1231234", "5432132"},
	{"G", "major", "1231234", "5432132"},
	{"D", "major", "1231234", "5432132"},
	{"A", "major", "1231234", "5432132"},
	{"E", "major", "1231234", "5432132"},
	{"B", "major", "1231234", "4321432"},
	{"F#", "major", "2341231", "4321321"},
	{"Db", "major", "2312341", "3214321"},
	{"Ab", "major", "3412312", "3214321"},
	{"Eb", "major", "3123412", "3214321"},
	{"Bb", "major", "4123123", "3214321"},
	{"F", "major", "1234123", "5432132"},
	{"C", "minor", "1231234", "5432132"},
	{"G", "minor", "1231234", "5432132"},
	{"D", "minor", "1231234", "5432132"},
	{"A", "minor", "1231234", "5432132"},
	{"E", "minor", "1231234", "5432132"},
	{"B", "minor", "1231234", "4321432"},
	{"F#", "minor", "3412312", "4321321"},
	{"C#", "minor", "3412312", "3214321"},
	{"G#", "minor", "3412312", "3214321"},
	{"Eb", "minor", "3123412", "2143213"},
	{"Bb", "minor", "4123123", "2132143"},
	{"F", "minor", "1234123", "5432132"},
}

var scaleSteps = map[string][]int{
	"major": {0, 2, 4, 5, 7, 9, 11},
	"minor": {0, 2, 3, 5, 7, 8, 11},
}

// upDown returns the keys of a run up so many octaves and down again.
func upDown(start, octaves int, steps []int) []int {
	var keys []int
	for i := range octaves*len(steps) + 1 {
		keys = append(keys, start+12*(i/len(steps))+steps[i%len(steps)])
	}
	for i := len(keys) - 2; i >= 0; i-- {
		keys = append(keys, keys[i])
	}
	return keys
}

// line returns evenly spaced notes, joined, for one limb.
func line(limb Limb, seconds float64, keys ...int) []Note {
	var out []Note
	for i, k := range keys {
		out = append(out, Note{
			Start: float64(i) * seconds, End: float64(i+1) * seconds,
			At: Ticks(i) * 5040, Until: Ticks(i+1) * 5040, Key: k, Limb: limb,
		})
	}
	return out
}

func fingersOf(limb Limb, notes []Note) []int {
	h := newHand(notes, allOf(notes), limb, FullConsole, DefaultProfile())
	s := h.solve()
	out := make([]int, len(notes))
	for i, m := range h.moments {
		for k, p := range m.presses {
			out[p.note] = int(s.grips[i][k])
		}
	}
	return out
}

func allOf(notes []Note) []int {
	out := make([]int, len(notes))
	for i := range out {
		out[i] = i
	}
	return out
}

// standard returns the customary fingers of a scale two octaves up and down:
// the octave's pattern twice and the top note, which ends the hand (5 in the
// right hand where the scale starts with the thumb), down the same way.
func standard(pattern string, limb Limb) []int {
	var up []int
	for i := range 15 {
		up = append(up, int(pattern[i%7]-'0'))
	}
	switch {
	case limb == RightHand && pattern == "1231234":
		up[14] = 5
	case limb == RightHand && pattern == "1234123":
		up[14] = 4
	case limb == LeftHand && (pattern[0] == '5' || pattern == "4321432"):
		up[7], up[14] = 1, 1
	}
	for i := 13; i >= 0; i-- {
		up = append(up, up[i])
	}
	return up
}

func TestScalesGetTheirCustomaryFingers(t *testing.T) {
	hit, all := 0, 0
	for i, s := range scales {
		for limb, pattern := range map[Limb]string{RightHand: s.right, LeftHand: s.left} {
			start := 48 + (pcOf(s.tonic)+12-48%12)%12
			got := fingersOf(limb, line(limb, 0.15, upDown(start, 2, scaleSteps[s.mode])...))
			want := standard(pattern, limb)
			n := 0
			for i := range got {
				if accepted(got, want, i, limb) {
					n++
				}
			}
			hit, all = hit+n, all+len(got)
			if n == len(got) {
				continue
			}
			t.Logf("%s %s, %v: %d of %d\n got %s\nwant %s", s.tonic, s.mode, limb, n, len(got), digits(got), digits(want))
			if i < 5 {
				t.Errorf("%s %s, %v, differs from the books", s.tonic, s.mode, limb)
			}
		}
	}
	t.Logf("%d of %d notes, %.1f %%", hit, all, 100*float64(hit)/float64(all))
	if 100*hit < 97*all {
		t.Errorf("%d of %d notes have their customary finger; 97 %% are asked for", hit, all)
	}
}

func digits(f []int) string {
	return strings.Trim(strings.ReplaceAll(fmt.Sprint(f), " ", ""), "[]")
}

func pcOf(name string) int {
	pc := int([]int{9, 11, 0, 2, 4, 5, 7}[name[0]-'A'])
	for _, a := range name[1:] {
		if a == '#' {
			pc++
		} else {
			pc += 11
		}
	}
	return pc % 12
}

// accepted reports whether finger i of a run is customary. Books differ in
// the one or two notes before the first thumb (of the right hand, at the
// bottom) or after the last (of the left hand, at the top): there any
// fingers that ascend in the right order are.
func accepted(got, want []int, i int, limb Limb) bool {
	if got[i] == want[i] {
		return true
	}
	from, to := 0, 0
	mid := len(want) / 2
	if limb == RightHand {
		for to < mid && want[to] != 1 {
			to++
		}
		if i > mid {
			i = len(want) - 1 - i
		}
	} else {
		from, to = mid, mid+1
		for from > 0 && want[from-1] != 1 {
			from--
		}
		if i > mid {
			i = len(want) - 1 - i
		}
	}
	if i < from || i >= to || to-from > 2 {
		return false
	}
	if to-from == 1 {
		return got[i] >= 2 && got[i] <= 4
	}
	a, b := got[from], got[from+1]
	if limb == LeftHand {
		a, b = b, a
	}
	return a == 2 && b == 3 || a == 3 && b == 4
}
