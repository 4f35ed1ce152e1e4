package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

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

// shareFree is share for hands of which one may not be free: the other one
// takes the block then, and no lead is doubled.
func shareFree(plan project.HandPlan, right, left bool, keys []int16) grip {
	switch {
	case right == left:
		return share(plan, keys)
	case right:
		return grip{right: indexes(0, len(keys))}
	}
	return grip{left: indexes(0, len(keys))}
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

// octaveBelow returns the lead an octave lower.
func octaveBelow(p theory.Pitch) theory.Pitch { return p.Transpose(theory.Octave.Invert()) }
