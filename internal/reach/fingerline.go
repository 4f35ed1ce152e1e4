package reach

// lineStep is what the search needs to go from a note of a line to the next.
// The states of the note before fall into groups that differ only in the grip
// before them, which no later note asks about; of each group the cheapest
// state goes on. Which states form a group depends on the next finger only by
// whether it is the thumb.
type lineStep struct {
	groups []lineGroup
	of     []uint8 // the group of each state
	slots  [fingers * thumbCodes]uint8
}

// lineGroup is what its states have in common, the grip and what the thumbs
// will be after the next note, and the cheapest of them.
type lineGroup struct {
	grip   uint8
	thumbs thumbs
	cost   int
	best   *state
}

// thumbCodes is how many memories of the thumbs there are.
const thumbCodes = (thumbMemory + 2) * (thumbMemory + 2)

func (t thumbs) code() int { return int(t.last+1)*(thumbMemory+2) + int(t.before+1) }

// group sorts the states of a note into groups for a next finger.
func (l *lineStep) group(layer []state, finger uint8) {
	clear(l.slots[:])
	l.groups, l.of = l.groups[:0], resized(l.of, len(layer))
	for k := range layer {
		p := &layer[k]
		next := p.thumbs.next(finger)
		slot := &l.slots[int(p.grip)*thumbCodes+next.code()]
		if *slot == 0 {
			l.groups = append(l.groups, lineGroup{grip: p.grip, thumbs: next})
			*slot = uint8(len(l.groups))
		}
		l.of[k] = *slot - 1
	}
}

// lineSteps are the two steps that a note may take, and what both share: the
// costs of the fingers on the notes around it.
type lineSteps struct {
	thumb, other lineStep
	joins        [fingers]int
	costs        lineCosts
}

// advanceLine works out the states of moment i, a note of a line, from those
// of the note before.
func (s *search) advanceLine(i int) {
	s.line.other.group(s.last, 2)
	joins, here, next := s.joinsAt(i), s.triplesAt(i), s.triplesAt(i+1)
	for b, g := range s.lists[i] {
		step := &s.line.other
		if g[0] == 1 {
			step = &s.line.thumb
			step.group(s.last, 1)
		}
		own := s.gripCost(&s.moments[i], g)
		for a, f := range s.lists[i-1] {
			s.line.joins[a] = own + int(joins.costs[a][b])
			if !joins.joined[a][b] {
				s.line.joins[a] += s.leapCost(i-1, f, g)
			}
		}
		s.pick(step, i, g[0], &here.costs[b])
		s.goOn(step, next, b)
	}
}

// pick finds the cheapest state of each group for a finger on note i, with
// what it costs together with the notes before.
func (s *search) pick(l *lineStep, i int, finger uint8, triples *[fingers][fingers]int32) {
	for k := range l.groups {
		l.groups[k].best = nil
	}
	for k := range s.last {
		p := &s.last[k]
		cost := p.cost + int(triples[p.before][p.grip]) + s.line.joins[p.grip]
		if finger == 1 {
			cost += s.strayCost(i, finger, p.thumbs)
		}
		if q := &l.groups[l.of[k]]; q.best == nil || cost < q.cost || cost == q.cost && p.rank() < q.best.rank() {
			q.cost, q.best = cost, p
		}
	}
}

// goOn makes a state of each group that can be on the cheapest way.
func (s *search) goOn(l *lineStep, next *triples, b int) {
	var r rivals
	for k := range l.groups {
		r.take(&l.groups[k])
	}
	r.compare(&next.worse[b])
	for k := range l.groups {
		if q := &l.groups[k]; r.passes(q) {
			s.add(state{grip: uint8(b), before: q.grip, thumbs: q.thumbs, cost: q.cost}, q.best.trail)
		}
	}
}

// rivals tell which states of one grip cannot be on the cheapest way. Two
// states of a grip can go on alike. What they then pay differently is
//
//   - the strays of the next two thumbs at most: of the next one where two
//     thumbs are remembered, of the one after where one is, which is the same
//     for states whose last thumb is the same;
//   - the next three notes, where their grips before differ.
//
// So a state is no use where another one, with all that it may pay more, stays
// cheaper.
type rivals struct {
	// same and any are the least that a state of a grip before and a last
	// thumb, and of a grip before, costs with all the strays it may meet. They
	// are one more, so that 0 is none.
	same [fingers][thumbMemory + 2]int
	any  [fingers]int
}

// take counts a state in.
func (r *rivals) take(q *lineGroup) {
	most := q.cost + 1
	if q.thumbs.before >= 0 {
		most += strayThumb
	}
	if b := &r.same[q.grip][q.thumbs.last+1]; *b == 0 || most < *b {
		*b = most
	}
	if q.thumbs.last >= 0 {
		most += strayThumb
	}
	if b := &r.any[q.grip]; *b == 0 || most < *b {
		*b = most
	}
}

// compare holds the states of each grip before against those of the cheapest
// one; worse is how much more the next three notes may cost with one grip than
// with another.
func (r *rivals) compare(worse *[fingers][fingers]int32) {
	best := -1
	for a, cost := range r.any {
		if cost != 0 && (best < 0 || cost < r.any[best]) {
			best = a
		}
	}
	for a := range r.any {
		r.any[a] = min(r.any[a], r.any[best]+int(worse[best][a]))
	}
}

// passes reports whether a state may be on the cheapest way.
func (r *rivals) passes(q *lineGroup) bool {
	return q.cost+1 <= r.any[q.grip] && q.cost+1 <= r.same[q.grip][q.thumbs.last+1]
}
