package reach

// The rules for chords: the rules of lines carried over to the adjacent
// fingers of a grip and to the whole hand, and the joining of one grip to the
// next as organists practise it.

// gripCost is what a grip costs by itself. One key is a note of a line.
func (h *hand) gripCost(m *moment, g grip) int {
	n := len(m.presses)
	if n == 1 {
		p := &m.presses[0]
		return tapCost(tap{p.key, int(g[0]), p.sharp})
	}
	cost := 0
	for k := 1; k < n; k++ {
		cost += h.holdCost(&m.presses[k-1], &m.presses[k], g[k-1], g[k])
	}
	if n > 2 {
		cost += h.holdCost(&m.presses[0], &m.presses[n-1], g[0], g[n-1])
	}
	return cost + shapeCost(m, g) + h.wideCost(m) + bridgeCost(m, g)
}

// bridgeCost is the cost of keys on two manuals: only a thumb reaches down to
// the lower one.
func bridgeCost(m *moment, g grip) (cost int) {
	if !m.bridged {
		return 0
	}
	for k := range m.presses {
		if (m.presses[k].division == Lower) != (g[k] == 1) {
			cost += outOfHand
		}
	}
	return cost
}

// holdCost is the cost of holding two keys with two fingers: the rules of
// stretch, small span and large span. A minor third on 2 and 3 is a semitone
// beyond relaxed.
func (h *hand) holdCost(a, b *press, f, g uint8) int {
	if f >= g {
		return crossedGrip
	}
	s := &h.spans[f][g]
	size := b.key - a.key
	rel := holdSpan
	if f == 1 {
		rel = holdSpanThumb
	}
	cost := holdStretch*(max(0, size-s.maxComf)+max(0, s.minComf-size)) +
		rel*(max(0, size-s.maxRel)+max(0, s.minRel-size))
	if beyond := max(size-s.maxPrac, s.minPrac-size); beyond > 0 {
		cost += outOfHand + perTooWide*beyond
	}
	return cost
}

// shapeCost holds the rules of weak and short fingers.
func shapeCost(m *moment, g grip) (cost int) {
	naturals := false
	for k := range m.presses {
		naturals = naturals || !m.presses[k].sharp
	}
	for k := range m.presses {
		p := &m.presses[k]
		if g[k] == 4 {
			cost += fourInChord
			if k > 0 && p.sharp && g[k-1] == 3 && !m.presses[k-1].sharp {
				cost += threeFourInChord
			}
		}
		if naturals && p.sharp && (g[k] == 1 || g[k] == 5) {
			cost += sharpEdge
		}
	}
	return cost
}

// wideCost is the cost of keys further apart than the hand reaches.
func (h *hand) wideCost(m *moment) int {
	if beyond := m.width() - hundredths(h.stretch.Maximal); beyond > 0 {
		return outOfHand + perTooWide*beyond*12/octaveWidth
	}
	return 0
}

// width is how far apart the outer keys of the moment are, in hundredths of a
// millimetre.
func (m *moment) width() int { return m.presses[len(m.presses)-1].x - m.presses[0].x }

// joinCost is what it costs to go from one grip to the next.
func (h *hand) joinCost(i int, a, b grip) int {
	return h.joinFrom(i, a, b, place(&h.moments[i], a), place(&h.moments[i+1], b))
}

// joinFrom is joinCost where the places of both grips are known.
func (h *hand) joinFrom(i int, a, b grip, from, to int) int {
	switch h.joins[i].kind {
	case lineJoin:
		s, t := h.tapOf(i, a), h.tapOf(i+1, b)
		if h.joined(s, t) {
			return h.pairCost(s, t)
		}
		return h.pairCost(s, t) + h.leapCost(i, a, b)
	case restJoin:
		return 0
	case manualJoin:
		return manualChange + h.shiftCost(i, distance(from, to))
	}
	return h.shiftCost(i, distance(from, to)) + h.holdsCost(i, a, b) + h.voicesCost(i, a, b)
}

// shiftCost is the cost of moving the whole hand, which weighs more the less
// time there is.
func (h *hand) shiftCost(i, shift int) int {
	return perShift*shift*12/octaveWidth + h.hasteCost(i, shift)
}

// leapCost is the cost of haste in a line whose two notes no fingers join.
func (h *hand) leapCost(i int, a, b grip) int {
	return h.hasteCost(i, distance(place(&h.moments[i], a), place(&h.moments[i+1], b)))
}

func (h *hand) hasteCost(i, shift int) int {
	need, time := h.moveTime(shift), h.joins[i].time
	if need <= time {
		return 0
	}
	return tooSoon + perTooSoon*int(100*(need-time)/need)
}

// holdsCost is the cost of what happens to keys that stay down or are
// repeated: a change of finger.
func (h *hand) holdsCost(i int, a, b grip) (cost int) {
	j := &h.joins[i]
	for k := range h.moments[i+1].presses {
		l := j.from[k]
		if l < 0 || a[l] == b[k] {
			continue
		}
		if !j.held[k] {
			cost += otherInChord
			continue
		}
		cost += substitution
		if j.time < substitutionTime/h.profile.Speed {
			cost += hastySubstitution
		}
	}
	return cost
}

// voicesCost is the cost of breaks in the outer voices.
func (h *hand) voicesCost(i int, a, b grip) (cost int) {
	if h.joins[i].gap > joinedGap || h.profile.Touch == Detached {
		return 0
	}
	m, n := h.moments[i].presses, h.moments[i+1].presses
	top, last := len(m)-1, len(n)-1
	if !h.joined(tap{m[top].key, int(a[top]), m[top].sharp}, tap{n[last].key, int(b[last]), n[last].sharp}) {
		cost += lostOuter
	}
	if !h.joined(tap{m[0].key, int(a[0]), m[0].sharp}, tap{n[0].key, int(b[0]), n[0].sharp}) {
		cost += lostInner
	}
	return cost
}

// joined reports whether fingers can lead from one key to the next without a
// gap: two fingers within their practical span, the same finger on the same
// key, or a finger that glides.
func (h *hand) joined(a, b tap) bool {
	size := b.key - a.key
	switch {
	case size == 0:
		return true
	case a.finger == b.finger:
		return a.finger == 1 && -2 <= size && size <= 2 && (!b.sharp || a.sharp) || a.sharp && !b.sharp && (size == 1 || size == -1)
	case a.finger < b.finger:
		s := &h.spans[a.finger][b.finger]
		return size >= s.minPrac && size <= s.maxPrac
	}
	s := &h.spans[b.finger][a.finger]
	return -size >= s.minPrac && -size <= s.maxPrac
}

// restOffsets is where each finger lies beside the thumb in a relaxed hand
// over neighbouring naturals, in hundredths of a millimetre.
var restOffsets = [fingers + 1]int{0, 0, 1 * naturalPitch, 2 * naturalPitch, 3 * naturalPitch, 4 * naturalPitch}

// place is where the hand is when it holds a grip: the mean place its fingers
// ask the thumb to be at.
func place(m *moment, g grip) int {
	sum := 0
	for k := range m.presses {
		sum += m.presses[k].x - restOffsets[g[k]]
	}
	return sum / len(m.presses)
}
