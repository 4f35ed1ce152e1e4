package arrange

import (
	"slices"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// The way through the bars in performance. Most bars lead to the next one on the
// page. Where they do not, or not always, flow says what may follow:
//
//	|: A B :| C         B leads back to A and on to C
//	|: A |1 B :|2 C |   A leads to B and to C; B only back to A
//	A to coda  B  D.S.  (coda) C   A leads to B and to C; B to the sign
//
// What a bar leads to on the page comes first where it is among them.

// flowOf lists, for the bars that have a choice or do not lead to the next bar on
// the page, the bars that may follow in performance; the list is empty at the
// end.
func flowOf(bars []project.Bar) map[int][]int {
	flow := map[int][]int{}
	back := 0
	for b := range bars {
		if bars[b].RepeatStart {
			back = b
		}
		if to, marked := leadsTo(bars, b, back); marked {
			flow[b] = to
		}
	}
	return flow
}

// leadsTo returns what may follow bar b, and whether that is anything but just the
// next bar.
func leadsTo(bars []project.Bar, b, back int) (to []int, marked bool) {
	bar := &bars[b]
	last := b+1 == len(bars)
	switch {
	case bar.Jump != project.NoJump:
		return signOf(bars, b), true
	case bar.RepeatEnd && (len(bar.Ending) > 0 || last):
		return []int{back}, true
	case bar.RepeatEnd:
		return []int{b + 1, back}, true
	case bar.ToCoda:
		return append(onward(b, last), codaOf(bars)...), true
	case last:
		return nil, true
	case bars[b+1].EndingStart && len(bar.Ending) == 0:
		return endingsFrom(bars, b+1), true
	}
	return nil, false
}

func onward(b int, last bool) []int {
	if last {
		return nil
	}
	return []int{b + 1}
}

// signOf returns the bar that the jump at the end of bar b goes to.
func signOf(bars []project.Bar, b int) []int {
	if bars[b].Jump < project.DalSegno {
		return []int{0}
	}
	for k := b; k >= 0; k-- {
		if bars[k].Segno {
			return []int{k}
		}
	}
	return nil
}

// codaOf returns the bar with the coda sign.
func codaOf(bars []project.Bar) []int {
	if i := slices.IndexFunc(bars, func(b project.Bar) bool { return b.Coda }); i >= 0 {
		return []int{i}
	}
	return nil
}

// endingsFrom returns the first bars of the endings that follow each other from
// bar b on.
func endingsFrom(bars []project.Bar, b int) (to []int) {
	for ; b < len(bars) && len(bars[b].Ending) > 0; b++ {
		if bars[b].EndingStart {
			to = append(to, b)
		}
	}
	return to
}

// prefers returns the place among spans that a chord leads on into: the first of
// them it resolves to or prepares, else the first.
func prefers(spans []Span, c theory.Chord, options []int) int {
	for _, j := range options {
		if leadsOn(c, spans[j].Chord) {
			return j
		}
	}
	return options[0]
}

// leadsOn reports whether one chord by itself leads into another.
func leadsOn(c, to theory.Chord) bool {
	switch {
	case !playable(c) || !playable(to):
		return false
	case couldBeTwo(c):
		return isDominant(to) && falls(c, to)
	}
	return theory.Resolves(c, to)
}

// link says how the line goes on between two melody notes that follow each other
// on the page.
type link uint8

const (
	// linked notes always follow each other.
	linked link = iota
	// forked notes do on one pass; on another, another note follows the first.
	forked
	// severed notes never do.
	severed
)

// linkInto tells how melody note i hangs on the one before it.
func (s *stage) linkInto(i int) link {
	if i == 0 || len(s.flow) == 0 {
		return linked
	}
	before, n := s.chart.Melody[i-1], s.chart.Melody[i]
	out := linked
	for b := s.rule.BarAt(before.End() - 1); b < s.rule.BarAt(n.Start); b++ {
		to, marked := s.flow[b]
		switch {
		case !marked:
		case !slices.Contains(to, b+1):
			return severed
		case slices.ContainsFunc(to, func(bar int) bool { return bar != b+1 && !s.beginsLike(bar, n) }):
			out = forked
		}
	}
	return out
}

// beginsLike reports whether a bar begins with the same melody note as n.
func (s *stage) beginsLike(bar int, n project.Note) bool {
	start := s.rule.BarStart(bar)
	i, found := slices.BinarySearchFunc(s.chart.Melody, start, func(m project.Note, t project.Ticks) int { return int(m.Start - t) })
	return found && s.chart.Melody[i].Pitch == n.Pitch && n.Start == s.rule.BarStart(s.rule.BarAt(n.Start)) &&
		s.chordAt(start) == s.chordAt(n.Start)
}

// chordAt returns the chord in force at a position.
func (s *stage) chordAt(t project.Ticks) (c theory.Chord) {
	if i := spanAt(s.spans, t); i >= 0 {
		return s.spans[i].Chord
	}
	return c
}
