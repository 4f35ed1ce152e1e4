package arrange

import "organbook/internal/project"

// The feet get the cheapest walk over the pedals: each bass note may lie in
// any octave the board has and be taken by either foot. The state is the pair
// of key and foot, so the search is exact and linear in the number of notes.

// Costs of the walk, 1 for a semitone between one bass note and the next.
const (
	// restKey is the pedal around which both feet reach easily (G2), and
	// fromRest what each semitone away from it costs, in halves.
	restKey = 43
	// sameFootMoves is the cost of moving one foot from a key to another,
	// on top of the distance: the other foot could have been ready.
	sameFootMoves = 5
	// footCrosses is the cost of a foot landing beyond the other one.
	footCrosses = 9
	// footChanges is the cost of changing feet on a repeated key.
	footChanges = 2
	// farSide is the cost of each key a foot reaches past the middle of the
	// other side.
	farSide = 1
)

// footing is a pedal key and the foot that takes it.
type footing struct {
	key  int
	foot Limb
}

// walk chooses octave and foot for every note of a bass line.
func walk(line []bassNote, board project.Compass) []footing {
	states := make([][]footing, len(line))
	costs := make([][]int, len(line))
	from := make([][]int, len(line))
	for i, n := range line {
		states[i] = footings(n.name.PC(), board)
		costs[i] = make([]int, len(states[i]))
		from[i] = make([]int, len(states[i]))
		for k, f := range states[i] {
			costs[i][k] = placeCost(f, board)
			if i > 0 {
				prev, cost := cheapestInto(f, states[i-1], costs[i-1])
				from[i][k], costs[i][k] = prev, costs[i][k]+cost
			}
		}
	}
	return traceBack(states, costs, from)
}

func cheapestInto(f footing, states []footing, costs []int) (best, cost int) {
	for k, prev := range states {
		if total := costs[k] + footCost(prev, f); k == 0 || total < cost {
			best, cost = k, total
		}
	}
	return best, cost
}

func traceBack(states [][]footing, costs [][]int, from [][]int) []footing {
	out := make([]footing, len(states))
	at := argmin(costs[len(costs)-1])
	for i := len(states) - 1; i >= 0; i-- {
		out[i] = states[i][at]
		at = from[i][at]
	}
	return out
}

// footings lists the keys of a pitch class on the board, each for both feet.
func footings(pc int, board project.Compass) []footing {
	var out []footing
	for key := board.Lowest; key <= board.Highest; key++ {
		if key%12 == pc {
			out = append(out, footing{key, LeftFoot}, footing{key, RightFoot})
		}
	}
	return out
}

// placeCost is what a key costs a foot by itself.
func placeCost(f footing, board project.Compass) int {
	cost := int(distance(int16(f.key), restKey)) / 2
	middle := (board.Lowest + board.Highest) / 2
	if f.foot == LeftFoot {
		return cost + farSide*max(0, f.key-middle)
	}
	return cost + farSide*max(0, middle-6-f.key)
}

// footCost is what it costs to go from one note to the next.
func footCost(p, f footing) int {
	cost := distance(int16(p.key), int16(f.key))
	switch {
	case p.key == f.key:
		if p.foot != f.foot {
			cost += footChanges
		}
	case p.foot == f.foot:
		cost += sameFootMoves
	case (f.foot == RightFoot) != (f.key > p.key):
		cost += footCrosses
	}
	return cost
}
