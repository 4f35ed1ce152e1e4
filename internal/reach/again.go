package reach

import "slices"

// After an edit most of a piece is as it was. A search that is given the one
// before it, of the same hand on the same console, does over only what differs:
//
//   - The states of a moment follow from the moments up to the one after it. So
//     it begins at the last mark that it shares all that with.
//   - What comes after a moment follows from its states, up to what all of them
//     cost more, and from the moments from memoryBack before it on. So where the
//     two searches meet in all that, the rest of the older one is taken over.
//
// The result is the same to the last finger (TestCheckingAgainIsTheSame).

// markEvery is how many moments lie between two marks, at which a search keeps
// its states.
const markEvery = 16

// memoryBack is how many moments back a search looks: two thumbs, and the two
// notes before the next one.
const memoryBack = 2*thumbMemory + 2

// handWork is what a search leaves for the next one.
type handWork struct {
	hand   *hand
	marks  []searchMark
	trails []trail
}

// searchMark is where a search was: the states of a moment, and how many trails
// there were before them.
type searchMark struct {
	at, trails int
	states     []state
}

// mark keeps the states of moment i.
func (s *search) mark(i int) {
	s.marks = append(s.marks, searchMark{at: i, trails: len(s.trails) - len(s.now), states: slices.Clone(s.now)})
}

// begin takes over as much as the search before has in common from the start,
// and returns the moment whose states it stands at; 0 for none.
func (s *search) begin(before *handWork) int {
	if before == nil {
		return 0
	}
	same := s.sameFromStart(before.hand)
	k := len(before.marks)
	for k > 0 && before.marks[k-1].at+2 > same {
		k--
	}
	if k == 0 {
		return 0
	}
	m := &before.marks[k-1]
	s.marks = append(s.marks, before.marks[:k]...)
	s.trails = append(s.trails, before.trails[:m.trails+len(m.states)]...)
	s.now = slices.Clone(m.states)
	return m.at
}

// meets takes over the rest of the search before, where this one has come to
// the same states at moment i.
func (s *search) meets(before *handWork, i int) bool {
	shift := len(s.moments) - len(before.hand.moments)
	k, there := slices.BinarySearchFunc(before.marks, i-shift, func(m searchMark, at int) int { return m.at - at })
	if !there || !alike(before.marks[k].states, s.now) {
		return false
	}
	m := &before.marks[k]
	more, trails := s.now[0].cost-m.states[0].cost, len(s.trails)-len(s.now)-m.trails
	s.mark(i)
	for _, t := range before.trails[m.trails+len(m.states):] {
		s.trails = append(s.trails, trail{t.from + int32(trails), t.grip})
	}
	for _, old := range before.marks[k+1:] {
		now := searchMark{at: old.at + shift, trails: old.trails + trails, states: slices.Clone(old.states)}
		for l := range now.states {
			now.states[l].cost += more
			now.states[l].trail += int32(trails)
		}
		s.marks = append(s.marks, now)
	}
	s.now = s.marks[len(s.marks)-1].states
	return true
}

// alike reports whether states differ by the same cost and in nothing else.
func alike(a, b []state) bool {
	if len(a) != len(b) {
		return false
	}
	for k := range a {
		p, q := &a[k], &b[k]
		if p.cost-a[0].cost != q.cost-b[0].cost || p.rank() != q.rank() {
			return false
		}
	}
	return true
}

// sameFromStart counts the moments at the start that are taken alike in both.
func (h *hand) sameFromStart(o *hand) int {
	most := min(len(h.moments), len(o.moments))
	for i := range most {
		if !h.sameMoment(i, o, i) || i > 0 && h.joins[i-1] != o.joins[i-1] {
			return i
		}
	}
	return most
}

// sameToEnd counts the moments at the end that are taken alike in both.
func (h *hand) sameToEnd(o *hand) int {
	n, m := len(h.moments), len(o.moments)
	most := min(n, m)
	for i := 1; i <= most; i++ {
		if !h.sameMoment(n-i, o, m-i) || i > 1 && h.joins[n-i] != o.joins[m-i] {
			return i - 1
		}
	}
	return most
}

// sameMoment reports whether the search sees no difference between a moment and
// one of another hand.
func (h *hand) sameMoment(i int, o *hand, k int) bool {
	a, b := &h.moments[i], &o.moments[k]
	return a.bridged == b.bridged && a.samePresses(b)
}

// samePresses reports whether the keys of two moments are the same; other notes
// may have come before them.
func (m *moment) samePresses(o *moment) bool {
	return slices.EqualFunc(m.presses, o.presses, func(p, q press) bool {
		p.note, q.note = 0, 0
		return p == q
	})
}

// of returns the work where it serves a hand, nil otherwise.
func (w *handWork) of(h *hand) *handWork {
	if w == nil || w.hand.limb != h.limb || w.hand.profile != h.profile || w.hand.console != h.console {
		return nil
	}
	return w
}
