package reach

import "slices"

// The fingering of a hand is the cheapest sequence of grips:
//
//	cost(g0…gn) = Σ gripCost(gi) + Σ joinCost(gi, gi+1)
//	            + Σ tripleCost(gi, gi+1, gi+2) + Σ strayCost(thumbs)
//
// The last two sums run over lines only: over three notes in a row, and over
// the last two thumbs. So a state of the search is the grip of a moment, the
// grip before it and where the last two thumbs were, each as a number of notes
// counted back, up to thumbMemory; between chords only the grip is left of it.
// The states of a moment are bounded by a constant, so the search is linear in
// the number of moments, and it is exact. Among equal costs the first state in
// the order of the lists wins, so the result is deterministic.

// thumbMemory is how many notes back a thumb is remembered.
const thumbMemory = 5

// thumbs is where the last two thumbs of a line were: last counts notes back
// from the current one (0: it is the thumb's), before counts back from there;
// -1 is a thumb too far back or none.
type thumbs struct{ last, before int8 }

var noThumbs = thumbs{-1, -1}

// next returns the thumbs after one more note of the line.
func (t thumbs) next(finger uint8) thumbs {
	if t.last >= 0 {
		if t.last++; t.last > thumbMemory {
			t = noThumbs
		}
	}
	if finger == 1 {
		return thumbs{0, t.last}
	}
	return t
}

// first returns the thumbs at the first note of a line.
func firstThumbs(finger uint8) thumbs {
	if finger == 1 {
		return thumbs{0, -1}
	}
	return noThumbs
}

// strayCost is what the thumb costs on note i when the thumbs before it were
// at t, counted from the note before.
func (h *hand) strayCost(i int, finger uint8, t thumbs) int {
	if finger != 1 || t.last < 0 || t.last >= thumbMemory || t.before < 0 {
		return 0
	}
	key := h.moments[i].presses[0].key
	last := i - 1 - int(t.last)
	for _, at := range [2]int{last, last - int(t.before)} {
		if d := distance(key, h.moments[at].presses[0].key); d == 0 || d == 12 {
			return 0
		}
	}
	return strayThumb
}

// state is one state of the search.
type state struct {
	grip, before uint8 // indexes into the grips of the moment and the one before
	thumbs       thumbs
	cost         int
	from         int32 // the state of the moment before
}

// solution is the cheapest fingering of a hand.
type solution struct {
	grips []grip // one a moment
	cost  int
}

// search holds what the layers of one search share.
type search struct {
	*hand
	lists  [][]grip
	layers [][]state
	// slots finds states of the layer under construction; 0 is none.
	slots []int32
	used  []int32
}

func (h *hand) solve() solution {
	if len(h.moments) == 0 {
		return solution{}
	}
	s := &search{hand: h, lists: make([][]grip, len(h.moments)), layers: make([][]state, len(h.moments))}
	for i := range h.moments {
		s.lists[i] = gripsOf(&h.moments[i])
	}
	s.begin()
	for i := 1; i < len(h.moments); i++ {
		s.advance(i)
	}
	return s.traceBack()
}

func (s *search) begin() {
	for b, g := range s.lists[0] {
		s.layers[0] = append(s.layers[0], state{
			grip: uint8(b), thumbs: s.startThumbs(0, g), cost: s.gripCost(&s.moments[0], g), from: -1,
		})
	}
}

// startThumbs is the memory of the thumb where no line leads into moment i.
func (s *search) startThumbs(i int, g grip) thumbs {
	if len(s.moments[i].presses) != 1 {
		return noThumbs
	}
	return firstThumbs(g[0])
}

// advance works out the states of moment i from those of the one before.
func (s *search) advance(i int) {
	list := s.lists[i]
	s.layers[i] = make([]state, 0, 2*len(list)*len(s.lists[i-1]))
	line := s.joins[i-1].kind == lineJoin
	three := line && i >= 2 && s.joins[i-2].kind == lineJoin
	for b, g := range list {
		own := s.gripCost(&s.moments[i], g)
		joins := make([]int, len(s.lists[i-1]))
		for a, f := range s.lists[i-1] {
			joins[a] = own + s.joinCost(i-1, f, g)
		}
		var triples [fingers][fingers]int
		if three {
			triples = s.triplesInto(i, g)
		}
		for k := range s.layers[i-1] {
			p := &s.layers[i-1][k]
			next := state{grip: uint8(b), thumbs: noThumbs, from: int32(k), cost: p.cost + joins[p.grip]}
			if line {
				next.before = p.grip
				next.cost += s.strayCost(i, g[0], p.thumbs)
				next.thumbs = p.thumbs.next(g[0])
			} else {
				next.thumbs = s.startThumbs(i, g)
			}
			if three {
				next.cost += triples[p.before][p.grip]
			}
			s.keep(i, next)
		}
	}
	for _, u := range s.used {
		s.slots[u] = 0
	}
	s.used = s.used[:0]
	if line {
		s.prune(i)
	}
}

// prune drops states that cannot be on the cheapest way: what a state
// remembers of its thumbs bears on the next two thumbs at most, so another
// state of the same two grips that is cheaper by more than two strays stays
// cheaper.
func (s *search) prune(i int) {
	var best [fingers][fingers]int
	for k := range s.layers[i] {
		st := &s.layers[i][k]
		if b := &best[st.before][st.grip]; *b == 0 || st.cost+1 < *b {
			*b = st.cost + 1 // one more, so that 0 is none
		}
	}
	s.layers[i] = slices.DeleteFunc(s.layers[i], func(st state) bool {
		return st.cost+1 > best[st.before][st.grip]+2*strayThumb
	})
}

// triplesInto returns the costs of three notes that end with grip g at moment
// i, by the indexes of the first and second grip.
func (s *search) triplesInto(i int, g grip) (costs [fingers][fingers]int) {
	last := s.tapOf(i, g)
	for a, f := range s.lists[i-1] {
		mid := s.tapOf(i-1, f)
		for o, e := range s.lists[i-2] {
			costs[o][a] = s.tripleCost(s.tapOf(i-2, e), mid, last)
		}
	}
	return costs
}

// keep adds a state, or improves the one that is there.
func (s *search) keep(i int, n state) {
	const memory = thumbMemory + 2
	slot := ((int(n.grip)*128+int(n.before))*memory+int(n.thumbs.last+1))*memory + int(n.thumbs.before+1)
	if slot >= len(s.slots) {
		s.slots = append(s.slots, make([]int32, slot+1-len(s.slots))...)
	}
	if at := s.slots[slot]; at > 0 {
		if old := &s.layers[i][at-1]; n.cost < old.cost {
			*old = n
		}
		return
	}
	s.layers[i] = append(s.layers[i], n)
	s.slots[slot] = int32(len(s.layers[i]))
	s.used = append(s.used, int32(slot))
}

func (s *search) traceBack() solution {
	n := len(s.layers)
	at := int32(0)
	for k := range s.layers[n-1] {
		if s.layers[n-1][k].cost < s.layers[n-1][at].cost {
			at = int32(k)
		}
	}
	out := solution{grips: make([]grip, n), cost: s.layers[n-1][at].cost}
	for i := n - 1; i >= 0; i-- {
		st := &s.layers[i][at]
		out.grips[i] = s.lists[i][st.grip]
		at = st.from
	}
	return out
}

// costOf returns the cost of a whole sequence of grips, added up plainly.
func (h *hand) costOf(grips []grip) (cost int) {
	for i, g := range grips {
		cost += h.gripCost(&h.moments[i], g)
		if i > 0 {
			cost += h.joinCost(i-1, grips[i-1], g)
		}
		if i > 1 && h.threeInLine(i-2) {
			cost += h.tripleCost(h.tapOf(i-2, grips[i-2]), h.tapOf(i-1, grips[i-1]), h.tapOf(i, g))
		}
	}
	return cost + h.straysOf(grips)
}

// straysOf returns the cost of stray thumbs in a whole sequence.
func (h *hand) straysOf(grips []grip) (cost int) {
	for i := range grips {
		if grips[i][0] != 1 {
			continue
		}
		back := h.thumbsBefore(grips, i)
		if len(back) == 2 && !slices.ContainsFunc(back, func(at int) bool {
			d := distance(h.moments[at].presses[0].key, h.moments[i].presses[0].key)
			return d == 0 || d == 12
		}) {
			cost += strayThumb
		}
	}
	return cost
}

// thumbsBefore returns the last two thumbs of the line before note i, as far
// as they are remembered.
func (h *hand) thumbsBefore(grips []grip, i int) (at []int) {
	from := i
	for k := i - 1; k >= 0 && h.joins[k].kind == lineJoin && len(at) < 2 && from-k <= thumbMemory; k-- {
		if grips[k][0] == 1 {
			at = append(at, k)
			from = k
		}
	}
	return at
}
