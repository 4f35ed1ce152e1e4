package paint

import (
	"math"
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// emptyLow and emptyHigh are the rows of a system while the whole chart has
// no note: C4 to A5, where melodies of lead sheets lie.
const (
	emptyLow  = 60
	emptyHigh = 81
)

// keyRange is a growing range of keys; the zero value is empty.
type keyRange struct {
	low, high int
	any       bool
}

func (k *keyRange) add(key int) {
	if !k.any {
		*k = keyRange{key, key, true}
		return
	}
	k.low, k.high = min(k.low, key), max(k.high, key)
}

func (k *keyRange) addRange(o keyRange) {
	if o.any {
		k.add(o.low)
		k.add(o.high)
	}
}

// rangeRows decides which keys have rows in each system.
func (l *GridLayout) rangeRows() {
	ranges, over := make([]keyRange, len(l.Systems)), l.bracketRows()
	for i, n := range l.Realisation.Chart.Melody {
		top := l.leadKey(i)
		if inTuplet(n) {
			top += over
		}
		l.inSystems(n.Start, n.End(), func(k int) {
			ranges[k].add(l.leadKey(i))
			ranges[k].add(top)
		})
	}
	for i := range l.Realisation.Notes {
		if n := &l.Realisation.Notes[i]; showsInRows(n) {
			l.inSystems(n.Start, n.Start+n.Duration, func(k int) { ranges[k].add(l.shownKey(n)) })
		}
	}
	var whole keyRange
	for _, k := range ranges {
		whole.addRange(k)
	}
	if !whole.any {
		whole = keyRange{emptyLow + rowMargin, emptyHigh - rowMargin, true}
	}
	for k := range l.Systems {
		if r := ranges[k]; r.any && !l.Options.CommonRange {
			l.setRows(k, r)
		} else {
			l.setRows(k, whole)
		}
	}
	l.keepRows()
}

// bracketRows returns how many rows more than its margin a system needs for the
// bracket of a tuplet to clear a note in its top row.
func (l *GridLayout) bracketRows() int {
	row := l.Options.RowHeight
	rises := (l.leadHeight() - row) / 2 // a note is taller than its row
	return max(0, int(math.Ceil((tupletHeight+1+rises)/row))-rowMargin)
}

// inTuplet reports whether a note can belong to a tuplet, which is cheaper than
// finding the groups: every note of one starts or ends between the sixty-fourths.
func inTuplet(n project.Note) bool {
	const line = project.Whole / 64
	return n.Start%line != 0 || n.End()%line != 0
}

// keepRows gives systems back the rows they are to keep.
func (l *GridLayout) keepRows() {
	at := map[int]RowRange{}
	for _, r := range l.Options.Keep {
		at[r.Bar] = r
	}
	for k := range l.Systems {
		s := &l.Systems[k]
		if r, ok := at[s.FirstBar]; ok {
			s.Low, s.High = max(0, min(s.Low, r.Low)), min(127, max(s.High, r.High))
		}
	}
}

// RowRanges returns the rows of every system, for a later layout to keep.
func (l *GridLayout) RowRanges() []RowRange {
	out := make([]RowRange, len(l.Systems))
	for k := range l.Systems {
		out[k] = RowRange{l.Systems[k].FirstBar, l.Systems[k].Low, l.Systems[k].High}
	}
	return out
}

// setRows gives a system the rows of a range, its margin, and at least
// minRows.
func (l *GridLayout) setRows(k int, r keyRange) {
	low, high := r.low-rowMargin, r.high+rowMargin
	for high-low+1 < minRows {
		low--
		if high-low+1 < minRows {
			high++
		}
	}
	l.Systems[k].Low, l.Systems[k].High = max(0, low), min(127, high)
}

// inSystems calls f with every system that a stretch of time touches.
func (l *GridLayout) inSystems(start, end project.Ticks, f func(k int)) {
	k := sort.Search(len(l.Systems), func(k int) bool { return l.Systems[k].End > start })
	for ; k < len(l.Systems) && (l.Systems[k].Start < end || l.Systems[k].Start == start); k++ {
		f(k)
	}
}

// showsInRows reports whether a note is drawn on the rows of pitch: what the
// hands play besides the lead. The feet have their lane.
func showsInRows(n *arrange.Note) bool {
	return n.Division != arrange.Pedal && n.Layer != arrange.LayerLead
}

// leadKey returns the row of melody note i: the written pitch, which is what
// a drag moves.
func (l *GridLayout) leadKey(i int) int { return l.Realisation.Chart.Melody[i].Pitch.Key() }

// shownKey returns the row of a voice. Voices hang under their lead where the
// lead is shown, so an octave shift of the treatment is taken back.
func (l *GridLayout) shownKey(n *arrange.Note) int {
	r := l.Realisation
	if n.Step < 0 || n.Step >= len(r.Steps) || n.Step >= len(r.Chart.Melody) {
		return n.Key
	}
	if lead := r.Steps[n.Step].Lead; lead.IsValid() {
		return n.Key + l.leadKey(n.Step) - lead.Key()
	}
	return n.Key
}
