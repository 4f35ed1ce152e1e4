package reach

// lineCosts remembers what fingers cost on notes of a line that lie alike: the
// costs follow from the intervals and from which keys are sharps, and tunes
// are made of few of those.
type lineCosts struct {
	joins   map[lineShape]*joins
	triples map[lineShape]*triples
	// own are for notes for which the player's own finger leaves no choice.
	ownJoins   joins
	ownTriples [2]triples
}

// lineShape is how two or three notes lie: up from each to the next, in
// semitones, and which of them are sharps.
type lineShape struct {
	up, then int16
	sharps   uint8
}

// joins are the costs of two notes in a row by the indexes of their grips, and
// whether fingers join them.
type joins struct {
	costs  [fingers][fingers]int32
	joined [fingers][fingers]bool
}

// triples are the costs of three notes in a row by the indexes of the third
// grip, the first and the second.
type triples struct {
	costs [fingers][fingers][fingers]int32
	// worse is, for a second grip, how much more the three may cost with one
	// first grip than with another, whatever the third is.
	worse [fingers][fingers][fingers]int32
}

// noTriples are for notes that are no line of three.
var noTriples triples

// free reports whether a moment of one key leaves all fingers to choose from.
func (s *search) free(i int) bool { return len(s.lists[i]) == fingers }

// joinsAt returns the costs from the note before moment i to it.
func (s *search) joinsAt(i int) *joins {
	l := &s.line.costs
	if !s.free(i-1) || !s.free(i) {
		l.ownJoins = s.workOutJoins(i)
		return &l.ownJoins
	}
	a, b := &s.moments[i-1].presses[0], &s.moments[i].presses[0]
	shape := lineShape{up: int16(b.key - a.key), sharps: bit(a.sharp) | bit(b.sharp)<<1}
	if known := l.joins[shape]; known != nil {
		return known
	}
	if l.joins == nil {
		l.joins = map[lineShape]*joins{}
	}
	out := s.workOutJoins(i)
	l.joins[shape] = &out
	return &out
}

func (s *search) workOutJoins(i int) (out joins) {
	for b, g := range s.lists[i] {
		for a, f := range s.lists[i-1] {
			p, q := s.tapOf(i-1, f), s.tapOf(i, g)
			out.costs[a][b], out.joined[a][b] = int32(s.pairCost(p, q)), s.joined(p, q)
		}
	}
	return out
}

// triplesAt returns the costs of three notes that end at moment i.
func (s *search) triplesAt(i int) *triples {
	if i < 2 || i >= len(s.moments) || !s.threeInLine(i-2) {
		return &noTriples
	}
	l := &s.line.costs
	if !s.free(i-2) || !s.free(i-1) || !s.free(i) {
		t := &l.ownTriples[i&1] // two are in use at a time
		*t = s.workOutTriples(i)
		return t
	}
	a, b, c := &s.moments[i-2].presses[0], &s.moments[i-1].presses[0], &s.moments[i].presses[0]
	shape := lineShape{int16(b.key - a.key), int16(c.key - b.key), bit(a.sharp) | bit(b.sharp)<<1 | bit(c.sharp)<<2}
	if known := l.triples[shape]; known != nil {
		return known
	}
	if l.triples == nil {
		l.triples = map[lineShape]*triples{}
	}
	out := s.workOutTriples(i)
	l.triples[shape] = &out
	return &out
}

func (s *search) workOutTriples(i int) (out triples) {
	m := s.middleOf(i - 1)
	for c, g := range s.lists[i] {
		last := s.tapOf(i, g)
		for a, e := range s.lists[i-2] {
			first := s.tapOf(i-2, e)
			p := s.positionCost(first, last)
			for b, f := range s.lists[i-1] {
				out.costs[c][a][b] = int32(m.cost(first.finger, int(f[0]), last.finger, p))
			}
		}
	}
	for b := range out.worse {
		for a := range fingers {
			for o := range fingers {
				for c := range fingers {
					out.worse[b][a][o] = max(out.worse[b][a][o], out.costs[c][a][b]-out.costs[c][o][b])
				}
			}
		}
	}
	return out
}

func bit(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}
