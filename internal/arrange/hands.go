package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// handSpan is the widest stretch one hand is asked for, in semitones: a major
// tenth. The reach model may later ask for less.
const handSpan = 16

// grip says which hand takes which voices of a block, as indexes into its
// voices from the lead down.
type grip struct {
	right, left []int
	// double is the key of the lead an octave lower for the left hand, when
	// the plan adds it to the block; 0 for none.
	double int
}

// share hands a block's voices to the hands as the plan says.
//
//   - Shout: the right hand takes what lies within the octave under the lead,
//     the left hand the lead an octave lower and any voice dropped below that,
//     so the hands never reach across each other.
//   - Two-hand block: the upper half to the right hand, the rest to the left;
//     of an odd number the right hand takes one more.
//   - Solo over comp: all to the right hand; the left one comps.
func share(plan project.HandPlan, keys []int16) grip {
	switch plan {
	case project.Shout:
		return shareShout(keys)
	case project.TwoHandBlock:
		half := (len(keys) + 1) / 2
		return grip{right: indexes(0, half), left: indexes(half, len(keys))}
	}
	return grip{right: indexes(0, len(keys))}
}

func shareShout(keys []int16) grip {
	if len(keys) == 1 {
		return grip{right: indexes(0, 1)}
	}
	octave := keys[0] - 12
	cut := 1
	for cut < len(keys) && keys[cut] > octave {
		cut++
	}
	g := grip{right: indexes(0, cut), left: indexes(cut, len(keys))}
	if cut == len(keys) || keys[cut] != octave {
		g.double = int(octave)
	}
	return g
}

func indexes(from, to int) []int {
	out := make([]int, 0, to-from)
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}

// span returns the distance between a hand's outer keys, the double included
// for the left hand.
func (g grip) span(keys []int16, hand []int, double int) int {
	low, high := 128, -1
	for _, k := range hand {
		low, high = min(low, int(keys[k])), max(high, int(keys[k]))
	}
	if double > 0 {
		low, high = min(low, double), max(high, double)
	}
	return max(0, high-low)
}

// spans returns the stretch of each hand in semitones.
func (g grip) spans(keys []int16) (right, left int) {
	return g.span(keys, g.right, 0), g.span(keys, g.left, g.double)
}

// reachCost weighs a block that the planned hands cannot take in.
func (s *stage) reachCost(sp *spot, c *candidate) int {
	if c.keys[0]-c.keys[c.n-1] <= 12 {
		return 0 // within an octave every plan reaches
	}
	right, left := share(sp.passage.Plan, c.keys[:c.n]).spans(c.keys[:c.n])
	if right > handSpan || left > handSpan {
		return outOfReach
	}
	return 0
}

// fingerSlots are the fingers that usually take a grip of 1 to 5 keys, from
// the thumb outward.
var fingerSlots = [6][]int{nil, {3}, {1, 4}, {1, 2, 5}, {1, 2, 3, 5}, {1, 2, 3, 4, 5}}

// finger returns the slot of the key that is the i-th of n counted from the
// thumb's side; a grip of more than five keys has no plain answer.
func finger(i, n int) int {
	if n >= len(fingerSlots) {
		return 0
	}
	return fingerSlots[n][i]
}

// thumbSide returns the place of key k, counted from the thumb, among n keys
// that are listed from the highest down.
func thumbSide(limb Limb, k, n int) int {
	if limb == RightHand {
		return n - 1 - k
	}
	return k
}

// octaveBelow returns the lead an octave lower.
func octaveBelow(p theory.Pitch) theory.Pitch { return p.Transpose(theory.Octave.Invert()) }
