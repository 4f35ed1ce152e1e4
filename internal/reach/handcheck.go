package reach

import (
	"slices"

	"organbook/internal/phrase"
)

// hand fingers one hand and looks at the result moment by moment.
func (c *checker) hand(limb Limb, of []int) {
	if len(of) == 0 {
		return
	}
	if c.Profile.BusyLimbs[limb] {
		c.noLimb(limb, of)
	}
	h := newHand(c.Notes, of, limb, c.Console, c.Profile)
	s, work := h.solveAfter(c.before.workOf(limb).of(h))
	c.report.work[limb] = work
	c.markHand(h, s, of)
	runs := handRuns{wide: -1, fast: -1}
	for i := range h.moments {
		c.tooMany(h, i)
		c.wide(h, i, s.grips[i], &runs)
		c.numbers(h, i, s.grips[i])
		c.twoManuals(h, i, s.grips[i])
		if i > 0 {
			c.fast(h, i, s.grips, &runs)
		}
	}
	c.report.Strain[limb] = h.strain(s.grips)
}

// handRuns are the findings that a next moment may join; -1 for none.
type handRuns struct{ wide, fast int }

// markHand writes fingers, and fingers that take over, to the marks.
func (c *checker) markHand(h *hand, s solution, of []int) {
	for i := range h.moments {
		for k, p := range h.moments[i].presses {
			m := &c.report.Marks[p.note]
			if p.struck && i > 0 {
				m.Glide = h.glides(i, k, s.grips[i-1], s.grips[i][k])
			}
			switch f := int(s.grips[i][k]); {
			case p.struck:
				m.Finger = f
			case m.Then == 0 && f != m.Finger || m.Then != 0 && f != m.Then:
				m.Then = f
			}
		}
	}
	c.shareMarks(of)
}

// joinedGap is the longest silence, in seconds, over which a line still sounds
// joined.
const joinedGap = 0.03

// glides reports whether the finger on key k of moment i slides there from
// another key of the moment before: in a line, and in chords the thumb and the
// outer voice, which are heard to break.
func (h *hand) glides(i, k int, before grip, finger uint8) bool {
	j, m := &h.joins[i-1], &h.moments[i-1]
	if h.profile.Touch == Detached || j.gap > joinedGap || j.kind == restJoin || j.kind == manualJoin {
		return false
	}
	if n := len(h.moments[i].presses); n > 1 && k != n-1 && (k != 0 || finger != 1) {
		return false
	}
	to := &h.moments[i].presses[k]
	for l := range m.presses {
		from := &m.presses[l]
		if before[l] == finger && from.key != to.key {
			return h.joined(tap{from.key, int(finger), from.sharp}, tap{to.key, int(finger), to.sharp})
		}
	}
	return false
}

// shareMarks gives notes that were left out of a moment, because another note
// has their key, that note's finger.
func (c *checker) shareMarks(of []int) {
	type place struct {
		at  Ticks
		key int
	}
	left := func(i int) bool { return c.report.Marks[i].Finger == 0 }
	if !slices.ContainsFunc(of, left) {
		return
	}
	known := map[place]Mark{}
	for _, i := range of {
		if m := c.report.Marks[i]; m.Finger != 0 {
			known[place{c.Notes[i].At, c.Notes[i].Key}] = m
		}
	}
	for _, i := range of {
		if left(i) {
			c.report.Marks[i] = known[place{c.Notes[i].At, c.Notes[i].Key}]
		}
	}
}

// notesOf lists the notes of a moment.
func (m *moment) notesOf() []int {
	out := make([]int, 0, len(m.presses))
	for _, p := range m.presses {
		out = append(out, p.note)
	}
	return append(out, m.dropped...)
}

func (c *checker) tooMany(h *hand, i int) {
	m := &h.moments[i]
	if len(m.dropped) == 0 {
		return
	}
	f := c.handFinding(h, i, TooMany, Unplayable)
	f.Keys, f.MaxKeys = len(m.presses)+len(m.dropped), fingers
	f.Text = tooManyText(&f)
	c.add(f, nil)
}

// handFinding starts a finding about all keys of a moment.
func (c *checker) handFinding(h *hand, i int, kind Kind, severity Severity) Finding {
	m := &h.moments[i]
	f := Finding{Kind: kind, Severity: severity, Limb: h.limb, At: m.at, Notes: m.notesOf()}
	low, high := m.presses[0], m.presses[len(m.presses)-1]
	f.Low, f.High = c.Notes[low.note].Key, c.Notes[high.note].Key
	if f.Low > f.High {
		f.Low, f.High = f.High, f.Low
	}
	f.Division = low.division
	return f
}

// wide reports stretches of the whole hand, and gaps between two fingers.
func (c *checker) wide(h *hand, i int, g grip, runs *handRuns) {
	m := &h.moments[i]
	asked := millimetres(m.width())
	limit := h.stretch
	switch {
	case asked > limit.Maximal:
		c.addWide(h, i, Unplayable, limit.Maximal, runs)
	case h.misfits(m, g) >= 0:
		c.shape(h, i, g, runs)
	case asked > limit.Comfortable:
		c.addWide(h, i, Demanding, limit.Comfortable, runs)
	default:
		runs.wide = -1
	}
}

func (c *checker) addWide(h *hand, i int, severity Severity, limit Millimetres, runs *handRuns) {
	f := c.handFinding(h, i, Wide, severity)
	f.Asked, f.Limit = millimetres(h.moments[i].width()), limit
	f.Text = wideText(&f)
	c.add(f, &runs.wide)
}

// misfits returns the first key whose finger and the next one's cannot span
// the keys between them; -1 where all fit.
func (h *hand) misfits(m *moment, g grip) int {
	for k := 1; k < len(m.presses); k++ {
		if g[k-1] >= g[k] {
			continue // crossed on the player's own order
		}
		s := &h.spans[g[k-1]][g[k]]
		if size := m.presses[k].key - m.presses[k-1].key; size > s.maxPrac || size < s.minPrac {
			return k - 1
		}
	}
	return -1
}

func (c *checker) shape(h *hand, i int, g grip, runs *handRuns) {
	m := &h.moments[i]
	k := h.misfits(m, g)
	f := c.handFinding(h, i, Shape, Unplayable)
	a, b := m.presses[k], m.presses[k+1]
	f.Low, f.High = c.Notes[a.note].Key, c.Notes[b.note].Key
	if f.Low > f.High {
		f.Low, f.High = f.High, f.Low
	}
	f.Asked = millimetres(b.x - a.x)
	f.Limit = millimetres(h.spans[g[k]][g[k+1]].maxPrac * octaveWidth / 12)
	f.Text = shapeText(&f, int(g[k]), int(g[k+1]))
	c.add(f, &runs.wide)
}

// numbers reports the player's own finger numbers where they cross.
func (c *checker) numbers(h *hand, i int, g grip) {
	m := &h.moments[i]
	for k := 1; k < len(m.presses); k++ {
		if g[k-1] >= g[k] {
			f := c.handFinding(h, i, Numbers, Demanding)
			f.Text = numbersText(&f)
			c.add(f, nil)
			return
		}
	}
}

// twoManuals reports a hand that would have to be on two manuals at once. A
// player who bridges with the thumb can take one key of the lower manual by
// it, under keys of the upper one within the hand's stretch.
func (c *checker) twoManuals(h *hand, i int, g grip) {
	m := &h.moments[i]
	if !m.bridged {
		return
	}
	severity := Unplayable
	if c.Profile.ThumbBridge && bridgeCost(m, g) == 0 {
		severity = Demanding
	}
	f := c.handFinding(h, i, TwoManuals, severity)
	f.Text = twoManualsText(&f)
	c.add(f, nil)
}

// NearLimit is the part of the time there is above which a move is demanding.
const NearLimit = 0.8

// pace is the time from the stroke before to moment i if the written lengths of
// the last two were kept evenly. Where that is longer than the time there is,
// as for the off-beats of a swing, the player can play straighter.
func (h *hand) pace(i int) float64 {
	time := h.joins[i-1].time
	if i < 2 {
		return time
	}
	a, b, c := &h.moments[i-2], &h.moments[i-1], &h.moments[i]
	return max(time, (c.start-a.start)*float64(c.at-b.at)/float64(c.at-a.at))
}

// fast reports moves with too little time for them.
func (c *checker) fast(h *hand, i int, grips []grip, runs *handRuns) {
	need, time, pace := h.needTime(i-1, grips[i-1], grips[i]), h.joins[i-1].time, h.pace(i)
	if need <= NearLimit*pace {
		runs.fast = -1
		return
	}
	severity := Demanding
	if need > pace {
		severity = Unplayable
	}
	f := c.handFinding(h, i, Fast, severity)
	f.Asked = millimetres(distance(place(&h.moments[i-1], grips[i-1]), place(&h.moments[i], grips[i])))
	f.Need, f.Time, f.Pace = need, time, pace
	if severity == Unplayable {
		f.TempoRatio = pace / need
	}
	f.OtherManual = !h.console.sameManual(h.moments[i-1].presses[0].division, h.moments[i].presses[0].division)
	f.Text = fastText(&f, c.Tempo)
	if need > time && severity == Demanding {
		f.Text = phrase.Of("%s; played straighter it has %.0f ms", f.Text, 1000*pace)
	}
	c.add(f, &runs.fast)
}

// needTime is the least time the hand needs from moment i to the next.
func (h *hand) needTime(i int, a, b grip) float64 {
	j := &h.joins[i]
	shift := distance(place(&h.moments[i], a), place(&h.moments[i+1], b))
	switch j.kind {
	case lineJoin:
		if ta, tb := h.tapOf(i, a), h.tapOf(i+1, b); ta.finger != tb.finger && h.joined(ta, tb) {
			return fingerTime / h.profile.Speed
		}
	case manualJoin:
		return h.moveTime(shift) + manualTime/h.profile.Speed
	case restJoin:
		if h.console.sameManual(h.moments[i].presses[0].division, h.moments[i+1].presses[0].division) {
			return h.moveTime(shift)
		}
		return h.moveTime(shift) + manualTime/h.profile.Speed
	case chordJoin:
		if h.holdsAny(j) {
			return fingerTime / h.profile.Speed
		}
	}
	return h.moveTime(shift)
}

// holdsAny reports whether a key is held through, so that the hand stays.
func (h *hand) holdsAny(j *join) bool {
	for _, held := range j.held {
		if held {
			return true
		}
	}
	return false
}

// noLimb reports notes for a limb that is not free.
func (c *checker) noLimb(limb Limb, of []int) {
	n := &c.Notes[of[0]]
	f := Finding{Kind: NoLimb, Severity: Unplayable, Limb: limb, At: n.At, Notes: of, Low: n.Key, High: n.Key, Division: n.Division}
	f.Text = noLimbText(&f, len(of))
	c.add(f, nil)
}
