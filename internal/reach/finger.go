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
// the number of moments, and it is exact. Among equal costs the state that
// comes first by its rank wins, so the result is deterministic and does not
// depend on which states were dropped on the way.

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
	cost         int
	grip, before uint8 // indexes into the grips of the moment and the one before
	thumbs       thumbs
	trail        int32 // where the way to it ends
}

// rank orders the states of a moment.
func (p *state) rank() int { return (int(p.grip)<<8|int(p.before))*thumbCodes + p.thumbs.code() }

// beats reports whether a way of a cost from state p is better than one from q.
func (p *state) beats(cost int, q *state, other int) bool {
	return q == nil || cost < other || cost == other && p.rank() < q.rank()
}

// trail is the last piece of a way: a grip, and the piece before, -1 for none.
type trail struct {
	from int32
	grip uint8
}

// solution is the cheapest fingering of a hand.
type solution struct {
	grips []grip // one a moment
	cost  int
}

// search holds the states of the moment worked on and of the one before, and
// what its steps share.
type search struct {
	*hand
	lists     [][]grip
	last, now []state
	trails    []trail
	marks     []searchMark
	ways      waysIn
	places    []int // of the hand, by the grips of the moment before
	line      lineSteps
}

func (h *hand) solve() solution {
	s, _ := h.solveAfter(nil)
	return s
}

// solveAfter is solve with the help of an earlier search, nil for none, and
// returns what helps the next one.
func (h *hand) solveAfter(before *handWork) (solution, *handWork) {
	n := len(h.moments)
	if n == 0 {
		return solution{}, nil
	}
	s := &search{hand: h, lists: make([][]grip, n), trails: make([]trail, 0, h.room())}
	for i := range h.moments {
		s.lists[i] = gripsOf(&h.moments[i])
	}
	at := s.begin(before)
	if at == 0 {
		s.start()
	}
	s.advance(at, before)
	return s.traceBack(), &handWork{hand: h, marks: s.marks, trails: s.trails}
}

// start makes the states of the first moment.
func (s *search) start() {
	for b, g := range s.lists[0] {
		s.add(state{grip: uint8(b), thumbs: s.startThumbs(0, g), cost: s.gripCost(&s.moments[0], g)}, -1)
	}
}

// advance goes on from the states of a moment to the end, or to where the search
// before goes on alike, and returns how far it came.
func (s *search) advance(at int, before *handWork) int {
	n := len(s.moments)
	alikeFrom := n
	if before != nil {
		alikeFrom = n - s.sameToEnd(before.hand) + memoryBack
	}
	for i := at + 1; i < n; i++ {
		s.last, s.now = s.now, s.last[:0]
		if s.joins[i-1].kind == lineJoin {
			s.advanceLine(i)
		} else {
			s.advanceChord(i)
		}
		if i >= alikeFrom && s.meets(before, i) {
			return i
		}
		if i%markEvery == 0 || i == n-1 {
			s.mark(i)
		}
	}
	return n
}

// room guesses how many states a search meets; a line has more.
func (h *hand) room() int {
	n := 10 * len(h.moments)
	for i := range h.joins {
		if h.joins[i].kind == lineJoin {
			n += 15
		}
	}
	return n
}

// add adds a state that is reached over a piece of a way.
func (s *search) add(p state, from int32) {
	p.trail = int32(len(s.trails))
	s.trails = append(s.trails, trail{from, p.grip})
	s.now = append(s.now, p)
}

// startThumbs is the memory of the thumb where no line leads into moment i.
func (s *search) startThumbs(i int, g grip) thumbs {
	if len(s.moments[i].presses) != 1 {
		return noThumbs
	}
	return firstThumbs(g[0])
}

// waysIn holds the cheapest state for each grip of a moment; nil for none.
type waysIn []*state

func (w waysIn) of(layer []state, grips int) waysIn {
	w = resized(w, grips)
	clear(w)
	for k := range layer {
		p := &layer[k]
		if q := w[p.grip]; q == nil || p.beats(p.cost, q, q.cost) {
			w[p.grip] = p
		}
	}
	return w
}

// resized returns a slice of n elements, s itself where it is long enough.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// advanceChord works out the states of moment i, which no line leads into:
// only the grip before matters.
func (s *search) advanceChord(i int) {
	s.ways = s.ways.of(s.last, len(s.lists[i-1]))
	s.places = resized(s.places, len(s.ways))
	for a, f := range s.lists[i-1] {
		s.places[a] = place(&s.moments[i-1], f)
	}
	for b, g := range s.lists[i] {
		to, cost := place(&s.moments[i], g), 0
		var best *state
		for a, f := range s.lists[i-1] {
			p := s.ways[a]
			if p == nil {
				continue
			}
			if c := p.cost + s.joinFrom(i-1, f, g, s.places[a], to); p.beats(c, best, cost) {
				best, cost = p, c
			}
		}
		s.add(state{grip: uint8(b), thumbs: s.startThumbs(i, g), cost: cost + s.gripCost(&s.moments[i], g)}, best.trail)
	}
}

func (s *search) traceBack() solution {
	best := &s.now[0]
	for k := range s.now {
		if p := &s.now[k]; p.beats(p.cost, best, best.cost) {
			best = p
		}
	}
	out := solution{grips: make([]grip, len(s.moments)), cost: best.cost}
	at := best.trail
	for i := len(s.moments) - 1; i >= 0; i-- {
		out.grips[i] = s.lists[i][s.trails[at].grip]
		at = s.trails[at].from
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
			p := h.positionCost(h.tapOf(i-2, grips[i-2]), h.tapOf(i, g))
			cost += h.middleOf(i-1).cost(int(grips[i-2][0]), int(grips[i-1][0]), int(g[0]), p)
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
