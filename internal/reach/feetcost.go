package reach

import "math"

// What treads cost, and what it costs the feet to go from one to the next.

// treadCost is what a tread costs by itself.
func (f *feet) treadCost(m *moment, t tread) (cost int) {
	for k := range m.presses {
		if t[k].part == Heel {
			cost += heelWeight
		}
		slot := pedalSlot(m.presses[k].key) - f.centre
		if t[k].foot == 1 {
			slot = -slot
		}
		cost += int(wrongSide * max(0, slot-7))
		if m == &f.moments[0] {
			cost += int(startAcross * max(0, slot))
		}
	}
	if len(m.presses) == 2 {
		cost += pairTreadCost(&m.presses[0], &m.presses[1], t)
	}
	return cost
}

func pairTreadCost(low, high *press, t tread) int {
	gap := pedalSlot(high.key) - pedalSlot(low.key)
	switch {
	case t[0].foot == t[1].foot && (gap > footSpan || t[0].part == t[1].part):
		return beyondFoot
	case t[0].foot == t[1].foot:
		return oneFootTwo
	case t[0].foot == 1: // right foot on the lower pedal
		return crossing + int(perCrossed*gap)
	}
	return 0
}

// stepsCost is what it costs the feet to go from a state to tread t.
func (f *feet) stepsCost(i int, p *footState, t tread) (cost int) {
	m := &f.moments[i]
	for k := range m.presses {
		q, s := &m.presses[k], t[k]
		if !q.struck {
			cost += f.holdFootCost(i, p, q.key, s)
			continue
		}
		if len(m.presses) == 2 && !m.presses[1-k].struck && t[1-k].foot == s.foot {
			cost += oneFootTwo // joins a pedal the foot holds already
			continue
		}
		cost += f.moveCost(i, p, q, s)
		if len(m.presses) == 1 {
			cost += crossCost(p.feet[1-s.foot], q.key, s)
		}
	}
	return cost
}

// holdFootCost: a held pedal stays with its foot, or changes feet silently.
func (f *feet) holdFootCost(i int, p *footState, key int, s step) int {
	for k := range f.moments[i-1].presses {
		if f.moments[i-1].presses[k].key == key && p.tread[k] == s {
			return 0
		}
	}
	return footSubstitution
}

// moveCost is what it costs a foot to strike a pedal of moment i from where it
// was.
func (f *feet) moveCost(i int, p *footState, q *press, s step) int {
	was, other := p.feet[s.foot], p.feet[1-s.foot]
	switch {
	case other.down() && other.key() == q.key:
		return otherFoot
	case was.nowhere():
		return 0
	}
	gap := math.Abs(pedalSlot(was.key()) - pedalSlot(q.key))
	if !was.down() {
		return int(travel*gap) + f.hasteFoot(gap, f.idleTime(i))
	}
	switch kindOfStep(was, q, s.part) {
	case sameStep:
		return 0
	case heelToeStep:
		return heelToe + int(perSlot*gap)
	case slideOffStep:
		return slideOff
	case slideOnStep:
		return slideOn
	}
	return footLeap + int(perSlot*gap) + f.hasteFoot(gap, f.moments[i].start-f.moments[i-1].start)
}

// idleTime is the least time between a stroke at moment i and the one before
// of a foot that did not play at the moment between.
func (f *feet) idleTime(i int) float64 {
	return f.moments[i].start - f.moments[max(0, i-2)].start
}

// mayBeHasty reports whether a foot that waits may have too little time to
// get somewhere.
func (f *feet) mayBeHasty() bool {
	low, high, least := math.Inf(1), math.Inf(-1), math.Inf(1)
	for i := range f.moments {
		for k := range f.moments[i].presses {
			slot := pedalSlot(f.moments[i].presses[k].key)
			low, high = min(low, slot), max(high, slot)
		}
		if i > 1 {
			least = min(least, f.idleTime(i))
		}
	}
	return f.footTime(high-low) > least
}

// stepKind is how one foot goes from one pedal to the next.
type stepKind uint8

const (
	sameStep stepKind = iota
	heelToeStep
	slideOffStep
	slideOnStep
	leapStep
)

func kindOfStep(was footPlace, q *press, part Part) stepKind {
	gap := math.Abs(pedalSlot(was.key()) - pedalSlot(q.key))
	wasSharp := isSharp(was.key())
	switch {
	case was.key() == q.key:
		return sameStep
	case was.part != part && gap <= footSpan:
		return heelToeStep
	case was.part == part && gap <= 0.5 && wasSharp && !q.sharp:
		return slideOffStep
	case was.part == part && gap <= 1 && !q.sharp && !wasSharp:
		return slideOnStep
	}
	return leapStep
}

func (f *feet) hasteFoot(gap, time float64) int {
	if f.footTime(gap) > time {
		return footHaste
	}
	return 0
}

// footTime is the least time between two strokes of a foot that moves so many
// pitches of naturals between them.
func (f *feet) footTime(gap float64) float64 {
	return (footStroke + footPerMetre*gap*float64(pedalPitch)/1000) / f.profile.Speed
}

// crossCost is the cost of a foot landing beyond the other one.
func crossCost(other footPlace, key int, s step) int {
	if other.nowhere() {
		return 0
	}
	beyond := pedalSlot(key) - pedalSlot(other.key())
	if s.foot == 1 {
		beyond = -beyond
	}
	switch {
	case beyond <= 0:
		return 0
	case other.down():
		return crossing + int(perCrossed*beyond)
	}
	return crossingIdle + int(perCrossed*beyond)
}

// crossOf says how a foot passes the other one: a foot on a natural behind
// one on a sharp, a foot on a sharp in front of one on a natural; on equal
// terms the left foot passes behind, the right in front.
func crossOf(other footPlace, key int, s step) Cross {
	if crossCost(other, key, s) == 0 {
		return NoCross
	}
	switch sharp, otherSharp := isSharp(key), isSharp(other.key()); {
	case sharp && !otherSharp:
		return InFront
	case !sharp && otherSharp:
		return Behind
	case s.foot == 0:
		return Behind
	}
	return InFront
}
