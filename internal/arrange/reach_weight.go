package arrange

import (
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// ReachWeight says how strongly the player's reach bears on the choice of
// blocks.
type ReachWeight uint8

// The weights.
const (
	// ReachUsual avoids what is out of reach, and wide blocks a little.
	ReachUsual ReachWeight = iota
	// ReachStrict keeps within comfort wherever the harmony allows it.
	ReachStrict
	// ReachIgnored writes for any hands; the report still tells.
	ReachIgnored
)

// wideBlock is the cost of a block at the limit of the planned hands, in the
// scale of weights.go; what is beyond comfort costs its part of it.
const (
	wideBlock       = 12
	wideBlockStrict = 80
)

// reachCost weighs a block that the planned hands cannot take in, or hold with
// effort.
func (s *stage) reachCost(sp *spot, c *candidate) int {
	if s.weight == ReachIgnored || c.keys[0]-c.keys[c.n-1] <= 12 && s.octavesAreEasy() {
		return 0
	}
	switch cost := PlanCost(s.profile, sp.passage.Plan, c.voices[:c.n]); {
	case cost > 100:
		return outOfReach + cost - 200
	case s.weight == ReachStrict:
		return cost * wideBlockStrict / 100
	default:
		return cost * wideBlock / 100
	}
}

// octavesAreEasy reports whether both hands hold an octave in comfort.
func (s *stage) octavesAreEasy() bool {
	return s.profile.Hands[0].Comfortable >= reach.Naturals(8) && s.profile.Hands[1].Comfortable >= reach.Naturals(8)
}

// PlanCost weighs a block for the hands of a plan by their stretches alone: 0
// is comfortable, 100 at the limit, 200 and more beyond. It is cheap enough to
// be asked about every candidate.
func PlanCost(p reach.Profile, plan project.HandPlan, voices []theory.Pitch) int {
	var buffer [maxGrip]int16
	keys := buffer[:0]
	for _, v := range voices {
		keys = append(keys, int16(v.Key()))
	}
	g := share(plan, keys)
	return max(handCost(p, reach.RightHand, keys, g.right, 0), handCost(p, reach.LeftHand, keys, g.left, g.double))
}

// maxGrip is how many keys a block may have without taking memory.
const maxGrip = 16

func handCost(p reach.Profile, hand reach.Limb, keys []int16, at []int, double int) int {
	var buffer [maxGrip]int
	out := buffer[:0]
	for _, i := range at {
		out = append(out, int(keys[i]))
	}
	if double > 0 {
		out = append(out, double)
	}
	return reach.SpanCost(p, hand, out...)
}
