package arrange

import (
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
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
	weight := sp.passage.Treatment.Reach
	if weight == project.ReachIgnored || c.keys[0]-c.keys[c.n-1] <= 12 && s.octavesAreEasy() && closeKeys(c.keys[:c.n]) {
		return 0
	}
	switch cost := planCost(s.gauge, sp.passage.Plan, c.voices[:c.n]); {
	case cost > reach.AtLimit:
		return outOfReach + cost - reach.OutOfReach
	case weight == project.ReachStrict:
		return cost * wideBlockStrict / 100
	default:
		return cost * wideBlock / 100
	}
}

// octavesAreEasy reports whether both hands hold an octave in comfort.
func (s *stage) octavesAreEasy() bool {
	return s.profile.Hands[0].Comfortable >= reach.Naturals(8) && s.profile.Hands[1].Comfortable >= reach.Naturals(8)
}

// closeKeys reports whether no two neighbours of a block are so far apart that
// fingers might not span them.
func closeKeys(keys []int16) bool {
	for k := 1; k < len(keys); k++ {
		if keys[k-1]-keys[k] > 4 {
			return false
		}
	}
	return true
}

// PlanCost weighs a block for the hands of a plan by itself: 0 is comfortable,
// reach.AtLimit at the limit, reach.OutOfReach and more beyond.
func PlanCost(p reach.Profile, plan project.HandPlan, voices []theory.Pitch) int {
	return planCost(reach.NewGauge(p), plan, voices)
}

func planCost(gauge *reach.Gauge, plan project.HandPlan, voices []theory.Pitch) int {
	var buffer [maxGrip]int16
	keys := buffer[:0]
	for _, v := range voices {
		keys = append(keys, int16(v.Key()))
	}
	g := shareFree(plan, gauge.Free(reach.RightHand), gauge.Free(reach.LeftHand), keys)
	return max(handCost(gauge, reach.RightHand, keys, g.right, 0), handCost(gauge, reach.LeftHand, keys, g.left, g.double))
}

// maxGrip is how many keys a block may have without taking memory.
const maxGrip = 16

func handCost(gauge *reach.Gauge, hand reach.Limb, keys []int16, at []int, double int) int {
	var buffer [maxGrip]int
	out := buffer[:0]
	for _, i := range at {
		out = append(out, int(keys[i]))
	}
	if double > 0 {
		out = append(out, double)
	}
	return gauge.Cost(hand, out...)
}
