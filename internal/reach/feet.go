package reach

import "slices"

// The pedalling is the cheapest sequence of treads. A tread says which foot,
// and which part of it, takes each pedal of a moment. A state of the search is
// the tread together with the place of a foot that has nothing to do, as the
// next note may find it in the way; so the search is exact for the costs in
// pedalweights.go, and its states are bounded by the width of the board. Among
// equal costs the state that comes first by its rank wins.

// step is one pedal taken by a part of a foot; foot is 0 (left) or 1.
type step struct {
	foot int8
	part Part
}

// tread is how one or two pedals of a moment are taken, the lower one first.
type tread [2]step

// footPlace is where a foot is: on a key, or nowhere yet.
type footPlace struct {
	above int16 // one more than the key, 0 for nowhere
	// part is the part of the foot that plays; NoPart where it does not play at
	// this moment.
	part Part
}

func (p footPlace) key() int      { return int(p.above) - 1 }
func (p footPlace) down() bool    { return p.part != NoPart }
func (p footPlace) nowhere() bool { return p.above == 0 }

// footState is one state of the search.
type footState struct {
	feet  [2]footPlace
	tread tread
	cost  int
	rank  int32 // orders the states of a moment
	trail int32 // where the way to it ends
}

// feet is what the pedalling works with.
type feet struct {
	profile Profile
	moments []moment
	free    [2]bool
	centre  float64 // the middle of the board, in slots
	// hasty reports that a foot may be too slow for somewhere to go from a
	// place where it waits.
	hasty bool
}

func newFeet(notes []Note, of []int, console Console, profile Profile, swelling ...Span) *feet {
	f := &feet{profile: profile, moments: momentsOf(notes, of, LeftFoot, console)}
	f.free = [2]bool{!profile.BusyLimbs[LeftFoot] && profile.Feet != NoFeet, !profile.BusyLimbs[RightFoot] && profile.Feet == BothFeet}
	if !f.free[0] && !f.free[1] {
		f.free = [2]bool{true, true} // reported as a finding; shown all the same
	}
	f.centre = (pedalSlot(console.Pedal.Lowest) + pedalSlot(console.Pedal.Highest)) / 2
	for i := range f.moments {
		m := &f.moments[i]
		m.keepOuter()
		m.swelling = f.free[0] && slices.ContainsFunc(swelling, func(s Span) bool { return m.at >= s.At && m.at < s.Until })
	}
	f.hasty = f.mayBeHasty()
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
	low := f.steps(m, 0)
	if len(m.presses) == 1 {
		out := make([]tread, len(low))
		for i, s := range low {
			out[i][0] = s
		}
		return out
	}
	var out []tread
	for _, a := range low {
		for _, b := range f.steps(m, 1) {
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

// steps lists the ways to take one of the pedals of a moment.
func (f *feet) steps(m *moment, press int) (out []step) {
	for foot := range int8(2) {
		if !f.free[foot] || foot == 1 && m.swelling {
			continue
		}
		out = append(out, step{foot, Toe})
		if !m.presses[press].sharp {
			out = append(out, step{foot, Heel})
		}
	}
	return out
}

// after returns where the feet are after tread t at moment i.
func (f *feet) after(places [2]footPlace, i int, t tread) [2]footPlace {
	places[0].part, places[1].part = NoPart, NoPart
	m := &f.moments[i]
	for k := range m.presses {
		if s := t[k]; !places[s.foot].down() {
			places[s.foot] = footPlace{int16(m.presses[k].key + 1), s.part}
		}
	}
	return places
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
