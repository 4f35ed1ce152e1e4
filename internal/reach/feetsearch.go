package reach

import (
	"math"
	"slices"
)

// footSearch holds the states of the moment worked on and of the one before.
type footSearch struct {
	*feet
	last, now []footState
	trails    []footTrail
}

// footTrail is the last piece of a way: a tread, and the piece before, -1 for
// none.
type footTrail struct {
	tread tread
	from  int32
}

// footWork is what a search leaves for the next one.
type footWork struct {
	feet   *feet
	treads []tread
}

// solveAfter is solve with the help of an earlier search, nil for none, and
// returns what helps the next one. Most edits leave the pedal line alone; then
// the feet go the same way.
func (f *feet) solveAfter(before *footWork) ([]tread, *footWork) {
	if before != nil && f.sameAs(before.feet) {
		return before.treads, &footWork{f, before.treads}
	}
	treads, _ := f.solve()
	return treads, &footWork{f, treads}
}

// sameAs reports whether the search sees no difference between two lines.
func (f *feet) sameAs(o *feet) bool {
	return f.profile == o.profile && f.centre == o.centre && slices.EqualFunc(f.moments, o.moments, func(a, b moment) bool {
		return a.start == b.start && a.swelling == b.swelling && a.samePresses(&b)
	})
}

// solve returns the cheapest tread of each moment and the whole cost.
func (f *feet) solve() ([]tread, int) {
	if len(f.moments) == 0 {
		return nil, 0
	}
	s := &footSearch{feet: f, trails: make([]footTrail, 0, 8*len(f.moments))}
	for i := range f.moments {
		s.last, s.now = s.now, s.last[:0]
		for k, t := range f.treads(&f.moments[i]) {
			s.tread(i, k, t)
		}
	}
	return s.traceBack()
}

// tread works out the states of moment i with its tread t, the k-th.
func (s *footSearch) tread(i, k int, t tread) {
	own, first := s.treadCost(&s.moments[i], t), len(s.now)
	if i == 0 {
		s.now = append(s.now, footState{feet: s.after([2]footPlace{}, 0, t), tread: t, cost: own, trail: -1})
	}
	for l := range s.last {
		p := &s.last[l]
		s.keep(first, footState{feet: s.after(p.feet, i, t), tread: t, cost: p.cost + own + s.stepsCost(i, p, t)}, p)
	}
	s.drop(first)
	for l := first; l < len(s.now); l++ {
		n := &s.now[l]
		n.rank = int32(k)<<16 | int32(n.feet[0].above)<<8 | int32(n.feet[1].above)
		s.trails = append(s.trails, footTrail{t, n.trail})
		n.trail = int32(len(s.trails) - 1)
	}
}

// keep adds a state that is reached from p to those from first on, which share
// its tread, or improves the one that is there; there are never many. Till the
// moment is done, rank and trail are those of the state before.
func (s *footSearch) keep(first int, n footState, p *footState) {
	n.rank, n.trail = p.rank, p.trail
	for k := first; k < len(s.now); k++ {
		if q := &s.now[k]; q.feet == n.feet {
			if n.cost < q.cost || n.cost == q.cost && n.rank < q.rank {
				*q = n
			}
			return
		}
	}
	s.now = append(s.now, n)
}

// drop drops those of the states from first on that cannot be on the cheapest
// way. They differ in where a foot waits. The further out it waits, the less
// it is in the way of the other one; so what a state pays more than one in
// which it waits further in is the way to its next pedal at most, and haste.
func (s *footSearch) drop(first int) {
	kept := s.now[:first]
	for k := first; k < len(s.now); k++ {
		useless := false
		for l := first; l < len(s.now) && !useless; l++ {
			useless = s.outdoes(&s.now[l], &s.now[k])
		}
		if !useless {
			kept = append(kept, s.now[k])
		}
	}
	s.now = kept
}

// outdoes reports whether state p stays cheaper than q.
func (s *footSearch) outdoes(p, q *footState) bool {
	if p.cost >= q.cost {
		return false
	}
	for foot := range p.feet {
		if p.feet[foot] != q.feet[foot] {
			return p.cost+s.moreOf(foot, p.feet[foot], q.feet[foot]) < q.cost
		}
	}
	return false
}

// moreOf is what waiting at one place may cost a foot more than waiting at
// another one.
func (s *footSearch) moreOf(foot int, p, q footPlace) int {
	switch {
	case p.nowhere():
		return 0
	case q.nowhere():
		return infinite
	}
	out := pedalSlot(q.key()) - pedalSlot(p.key())
	if foot == 1 {
		out = -out
	}
	switch {
	case out < 0:
		return infinite
	case s.hasty:
		return footHaste + travel*int(math.Ceil(out))
	}
	return travel * int(math.Ceil(out))
}

// infinite is more than anything costs, and adds up with itself.
const infinite = math.MaxInt / 4

func (s *footSearch) traceBack() ([]tread, int) {
	best := &s.now[0]
	for k := range s.now {
		if p := &s.now[k]; p.cost < best.cost || p.cost == best.cost && p.rank < best.rank {
			best = p
		}
	}
	out, at := make([]tread, len(s.moments)), best.trail
	for i := len(out) - 1; i >= 0; i-- {
		out[i] = s.trails[at].tread
		at = s.trails[at].from
	}
	return out, best.cost
}
