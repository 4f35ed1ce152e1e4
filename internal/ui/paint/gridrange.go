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
	kept := l.keptRows()
	for k := range l.Systems {
		r := ranges[k]
		switch rows, ok := kept[l.Systems[k].FirstBar]; {
		case ok:
			l.openRows(k, rows, r)
		case r.any && !l.Options.CommonRange:
			l.setRows(k, r)
		default:
			l.setRows(k, whole)
		}
	}
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

// keptRows returns the rows that systems are to keep, by their first bar.
func (l *GridLayout) keptRows() map[int]RowRange {
	at := make(map[int]RowRange, len(l.Options.Keep))
	for _, r := range l.Options.Keep {
		at[r.Bar] = r
	}
	return at
}

// openRows gives a system the rows it keeps and, where its music goes beyond
// them, so many more that the next notes find room, too.
func (l *GridLayout) openRows(k int, kept RowRange, r keyRange) {
	edge := rowMargin
	if l.Options.Tight {
		edge = 0
	}
	for r.any && kept.Low > max(0, r.low-edge) {
		kept.Low -= rowsOpened
	}
	for r.any && kept.High < min(127, r.high+edge) {
		kept.High += rowsOpened
	}
	l.Systems[k].Low, l.Systems[k].High = max(0, kept.Low), min(127, kept.High)
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
