package reach

import (
	"math"
)

// The pedalling is the cheapest sequence of treads. A tread says which foot,
// and which part of it, takes each pedal of a moment. A state of the search is
// the tread together with the place of a foot that has nothing to do, as the
// next note may find it in the way; so the search is exact for the costs in
// pedalweights.go, and its states are bounded by the width of the board.

// step is one pedal taken by a part of a foot; foot is 0 (left) or 1.
type step struct {
	foot int8
	part Part
}

// tread is how one or two pedals of a moment are taken, the lower one first.
type tread [2]step

// footPlace is where a foot is: a key, or nowhere yet.
type footPlace struct {
	key  int16
	part Part
	// down reports that the foot plays at this moment.
	down bool
}

// footState is one state of the search.
type footState struct {
	feet  [2]footPlace
	tread tread
	cost  int
	from  int32
}

// feet is what the pedalling works with.
type feet struct {
	profile Profile
	moments []moment
	free    [2]bool
	centre  float64 // the middle of the board, in slots
}

func newFeet(notes []Note, of []int, console Console, profile Profile) *feet {
	f := &feet{profile: profile, moments: momentsOf(notes, of, LeftFoot, console)}
	f.free = [2]bool{!profile.BusyLimbs[LeftFoot] && profile.Feet != NoFeet, !profile.BusyLimbs[RightFoot] && profile.Feet == BothFeet}
	if !f.free[0] && !f.free[1] {
		f.free = [2]bool{true, true} // reported as a finding; shown all the same
	}
	f.centre = (pedalSlot(console.Pedal.Lowest) + pedalSlot(console.Pedal.Highest)) / 2
	for i := range f.moments {
		f.moments[i].keepOuter()
	}
	return f
}

// keepOuter drops all but the two outer pedals: two feet take two.
func (m *moment) keepOuter() {
	if n := len(m.presses); n > 2 {
		for _, p := range m.presses[1 : n-1] {
			m.dropped = append(m.dropped, p.note)
		}
		m.presses = []press{m.presses[0], m.presses[n-1]}
	}
}

// treads lists the ways to take the pedals of a moment.
func (f *feet) treads(m *moment) []tread {
	low := f.steps(&m.presses[0])
	if len(m.presses) == 1 {
		out := make([]tread, len(low))
		for i, s := range low {
			out[i][0] = s
		}
		return out
	}
	var out []tread
	for _, a := range low {
		for _, b := range f.steps(&m.presses[1]) {
			if a.foot != b.foot || a.part != b.part {
				out = append(out, tread{a, b})
			}
		}
	}
	if len(out) == 0 { // two sharps for one foot: its toe covers what it can
		s := low[0]
		out = append(out, tread{s, s})
	}
	return out
}

func (f *feet) steps(p *press) (out []step) {
	for foot := range int8(2) {
		if !f.free[foot] {
			continue
		}
		out = append(out, step{foot, Toe})
		if !p.sharp {
			out = append(out, step{foot, Heel})
		}
	}
	return out
}

// solve returns the cheapest tread of each moment and the whole cost.
func (f *feet) solve() ([]tread, int) {
	if len(f.moments) == 0 {
		return nil, 0
	}
	layers := make([][]footState, len(f.moments))
	slots := map[footSlot]int32{}
	for i := range f.moments {
		clear(slots)
		for _, t := range f.treads(&f.moments[i]) {
			own := f.treadCost(&f.moments[i], t)
			if i == 0 {
				layers[0] = append(layers[0], footState{feet: f.after([2]footPlace{}, 0, t), tread: t, cost: own, from: -1})
				continue
			}
			for k := range layers[i-1] {
				p := &layers[i-1][k]
				next := footState{feet: f.after(p.feet, i, t), tread: t, from: int32(k)}
				next.cost = p.cost + own + f.stepsCost(i, p, t)
				layers[i] = keepFoot(layers[i], slots, next)
			}
		}
	}
	return traceFeet(layers)
}

// footSlot tells states of one moment apart.
type footSlot struct {
	feet  [2]footPlace
	tread tread
}

func keepFoot(layer []footState, slots map[footSlot]int32, n footState) []footState {
	slot := footSlot{n.feet, n.tread}
	if at, ok := slots[slot]; ok {
		if n.cost < layer[at].cost {
			layer[at] = n
		}
		return layer
	}
	slots[slot] = int32(len(layer))
	return append(layer, n)
}

func traceFeet(layers [][]footState) ([]tread, int) {
	last := layers[len(layers)-1]
	at := int32(0)
	for k := range last {
		if last[k].cost < last[at].cost {
			at = int32(k)
		}
	}
	out, cost := make([]tread, len(layers)), last[at].cost
	for i := len(layers) - 1; i >= 0; i-- {
		out[i] = layers[i][at].tread
		at = layers[i][at].from
	}
	return out, cost
}

// after returns where the feet are after tread t at moment i.
func (f *feet) after(places [2]footPlace, i int, t tread) [2]footPlace {
	places[0].down, places[1].down = false, false
	m := &f.moments[i]
	for k := range m.presses {
		if s := t[k]; !places[s.foot].down {
			places[s.foot] = footPlace{int16(m.presses[k].key), s.part, true}
		}
	}
	return places
}

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
	time := m.start - f.moments[i-1].start
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
		cost += f.moveCost(p, q, s, time)
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

// moveCost is what it costs a foot to strike a pedal from where it was.
func (f *feet) moveCost(p *footState, q *press, s step, time float64) int {
	was := p.feet[s.foot]
	if other := p.feet[1-s.foot]; other.down && int(other.key) == q.key {
		return otherFoot
	}
	if was == (footPlace{}) {
		return 0
	}
	gap := math.Abs(pedalSlot(int(was.key)) - pedalSlot(q.key))
	if !was.down {
		return int(travel*gap) + f.hasteFoot(gap, time, was.part != s.part)
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
	return footLeap + int(perSlot*gap) + f.hasteFoot(gap, time, was.part != s.part)
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
	gap := math.Abs(pedalSlot(int(was.key)) - pedalSlot(q.key))
	wasSharp := isSharp(int(was.key))
	switch {
	case int(was.key) == q.key:
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

func (f *feet) hasteFoot(gap, time float64, turned bool) int {
	if f.footTime(gap, turned) > time {
		return footHaste
	}
	return 0
}

// footTime is the least time between two strokes of a foot that moves so many
// pitches of naturals between them.
func (f *feet) footTime(gap float64, turned bool) float64 {
	need := footStroke + footPerMetre*gap*float64(pedalPitch)/1000
	if turned {
		need = max(need, heelTime)
	}
	return need / f.profile.Speed
}

// crossCost is the cost of a foot landing beyond the other one.
func crossCost(other footPlace, key int, s step) int {
	if other == (footPlace{}) {
		return 0
	}
	beyond := pedalSlot(key) - pedalSlot(int(other.key))
	if s.foot == 1 {
		beyond = -beyond
	}
	switch {
	case beyond <= 0:
		return 0
	case other.down:
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
	switch sharp, otherSharp := isSharp(key), isSharp(int(other.key)); {
	case sharp && !otherSharp:
		return InFront
	case !sharp && otherSharp:
		return Behind
	case s.foot == 0:
		return Behind
	}
	return InFront
}

// costOf returns the cost of a whole pedalling, added up plainly.
func (f *feet) costOf(treads []tread) (cost int) {
	var p footState
	for i, t := range treads {
		cost += f.treadCost(&f.moments[i], t)
		if i > 0 {
			cost += f.stepsCost(i, &p, t)
		}
		p = footState{feet: f.after(p.feet, i, t), tread: t}
	}
	return cost
}
