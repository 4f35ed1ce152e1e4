package reach

// The rules for lines, after Parncutt et al. (1997), written for the right
// hand. Each function gives the cost of one or more of the rules for two or
// three notes in a row.

// tap is one note of a line: a finger on a key.
type tap struct {
	key, finger int
	sharp       bool
}

func (h *hand) tapOf(i int, g grip) tap {
	p := &h.moments[i].presses[0]
	return tap{p.key, int(g[0]), p.sharp}
}

// tapCost is what a note of a line costs by itself.
//
// Weak finger: 4 and 5 cost. Thumb on sharp: the thumb costs.
func tapCost(t tap) (cost int) {
	if t.finger >= 4 {
		cost += weakFinger
	}
	if t.finger == 1 && t.sharp {
		cost += thumbOnSharp
	}
	return cost
}

// pairCost is what it costs to go from one note of a line to the next.
func (h *hand) pairCost(a, b tap) int {
	switch {
	case a.key == b.key && a.finger == b.finger:
		return 0
	case a.key == b.key:
		return otherOnSame
	case a.finger == b.finger:
		return sameFingerCost(a, b)
	}
	return h.spanCost(a, b) + orderCost(a, b) + heightCost(a, b) + passCost(a, b)
}

// sameFingerCost: one finger cannot join two keys, unless it glides.
func sameFingerCost(a, b tap) int {
	size := distance(a.key, b.key)
	switch {
	case a.finger == 1 && size <= 2 && (!b.sharp || a.sharp):
		return thumbSlides
	case a.sharp && !b.sharp && size == 1:
		return sharpSlides
	}
	return sameFinger + perLeap*size
}

// spanCost holds the rules of stretch, small span and large span, and of fingers
// that cross: from D with 2 to F with 3 is three semitones, just comfortable but
// one beyond relaxed. That fingers cross without the thumb is no rule of the paper's;
// without its cost they would in arpeggios. How far the thumb crosses is left to the
// rules of the turn: method books cross whole tones as freely as semitones.
func (h *hand) spanCost(a, b tap) int {
	s, size := h.spanOf(a, b)
	cost := stretchRule * max(0, size-s.maxComf)
	if a.finger != 1 && b.finger != 1 {
		cost += spanRule * (max(0, size-s.maxRel) + max(0, s.minRel-size))
	}
	if beyond := max(size-s.maxPrac, s.minPrac-size); beyond > 0 {
		cost += beyondPrac + perLeap*beyond
	}
	if size < 0 && a.finger != 1 && b.finger != 1 {
		cost += crossedFingers
	}
	return cost
}

// spanOf returns the span of two fingers and the semitones from the lower
// finger's key to the higher finger's.
func (h *hand) spanOf(a, b tap) (*span, int) {
	if a.finger < b.finger {
		return &h.spans[a.finger][b.finger], b.key - a.key
	}
	return &h.spans[b.finger][a.finger], a.key - b.key
}

// orderCost: 3 followed by 4.
func orderCost(a, b tap) int {
	if a.finger == 3 && b.finger == 4 {
		return threeToFour
	}
	return 0
}

// heightCost holds the rules for sharps next to naturals: thumb and little finger.
// The paper's rule of 4 on a sharp beside 3 on a natural is left out: with these
// weights and a cost of 5 it took their customary finger from one note of the scales
// in fifty.
func heightCost(a, b tap) (cost int) {
	for _, t := range [2][2]tap{{a, b}, {b, a}} {
		if t[0].sharp && !t[1].sharp {
			switch t[0].finger {
			case 1:
				cost += thumbFromNatural
			case 5:
				cost += fiveFromNatural
			}
		}
	}
	return cost
}

// passCost: passing the thumb under a finger, or a finger over the thumb.
func passCost(a, b tap) int {
	low, high := a, b
	if low.key > high.key {
		low, high = high, low
	}
	if high.finger != 1 || low.finger == 1 {
		return 0
	}
	turn := turn + turnAtFinger(low.finger)
	switch {
	case low.sharp == high.sharp:
		return turn + passLevel
	case high.sharp:
		return turn + passUp
	}
	return turn
}

// middle is what the second of three notes of a line is to its neighbours.
type middle struct {
	inside   bool // its key lies between theirs
	squeezed bool // it is a natural between its two sharps
}

func (h *hand) middleOf(i int) middle {
	a, b, c := &h.moments[i-1].presses[0], &h.moments[i].presses[0], &h.moments[i+1].presses[0]
	return middle{
		inside:   b.key > min(a.key, c.key) && b.key < max(a.key, c.key),
		squeezed: !b.sharp && a.sharp && c.sharp && (a.key-b.key)*(c.key-b.key) == -1,
	}
}

// cost holds the rules for three notes by their fingers: change of position,
// its size, three-four-five, and a long finger squeezed between two sharps. A
// change of position is full where the thumb takes the note between.
func (m middle) cost(a, b, c int, p position) int {
	cost := p.cost
	switch {
	case b == 1 && p.full && m.inside:
		cost += fullPosition
	case b != 1 && m.squeezed:
		cost += squeezed
	}
	if 1<<a|1<<b|1<<c == 1<<3|1<<4|1<<5 {
		cost += threeFourFive
	}
	return cost
}

// position is a change of the hand's position over three notes.
type position struct {
	cost int
	full bool // the span is not even practical
}

// positionCost: the hand changes position when the first and third of three
// notes are further apart than their fingers comfortably are.
func (h *hand) positionCost(a, c tap) position {
	if a.finger == c.finger {
		return position{positionSize * distance(a.key, c.key), a.key != c.key}
	}
	s, size := h.spanOf(a, c)
	beyond := max(size-s.maxComf, s.minComf-size)
	if beyond <= 0 {
		return position{}
	}
	return position{positionSize * beyond, size > s.maxPrac || size < s.minPrac}
}

func distance(a, b int) int { return max(a-b, b-a) }

func turnAtFinger(f int) int {
	switch f {
	case 2:
		return turnAtTwo
	case 4:
		return turnAtFour
	case 5:
		return turnAtFive
	}
	return 0
}
