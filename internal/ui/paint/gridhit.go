package paint

import (
	"math"
	"sort"

	"organbook/internal/project"
)

// HitKind says what lies under a point of the grid.
type HitKind uint8

// The kinds of hit.
const (
	// HitNone: between or beside the systems.
	HitNone HitKind = iota
	// HitNote: a melody note.
	HitNote
	// HitNoteEnd: the end of a melody note, where it is made longer.
	HitNoteEnd
	// HitChord: the chord row.
	HitChord
	// HitRow: a bare place on the rows of pitch.
	HitRow
	// HitLane: a limb's lane.
	HitLane
	// HitCue: the row of settings.
	HitCue
	// HitFinding: the sign of a finding.
	HitFinding
	// HitBar: the number of a bar or the marks over it.
	HitBar
	// HitChange: a change of meter, key or tempo among them.
	HitChange
)

// Hit is what lies under a point.
type Hit struct {
	Kind HitKind
	// Index is the melody note, the chord change under the point (-1 for a
	// bare place of the chord row), the lane (0 right hand, 1 left hand, 2
	// feet), the cue (-1 for none), the finding, or the kind of change.
	Index int
	// At is the position under the point, not snapped.
	At project.Ticks
	// Key is the MIDI key of the row, for notes, their ends and rows.
	Key int
	// Bar and System are where the point lies.
	Bar, System int
}

// Hit returns what lies under a point in units.
func (l *GridLayout) Hit(x, y float64) Hit {
	k, ok := l.systemAt(y)
	if !ok {
		return Hit{Index: -1, Bar: -1, System: -1}
	}
	s := l.placed(k)
	h := Hit{Index: -1, System: k, Bar: l.barAt(s, x)}
	h.At = l.timeAt(h.Bar, x)
	if x < s.Chords.X-2 || x > s.Chords.Right()+2 {
		return h
	}
	switch {
	case y >= s.Cues.Y:
		h.Kind = HitCue
		h.Index = s.cueAt(x)
	case y >= s.Lanes.Y-lanesGap/2:
		l.hitLane(&h, s, x, y)
	case y >= s.Rows.Y:
		l.hitRows(&h, s, x, y)
	case y >= s.Chords.Y && l.onNumber(h.Bar, x):
		h.Kind, h.Index = HitBar, h.Bar
	case y >= s.Chords.Y:
		h.Kind = HitChord
		h.Index = s.labelAt(x)
	default:
		h.Kind, h.Index = HitBar, h.Bar
		if m := s.changeAt(x); m != nil {
			h.Kind, h.Index, h.Bar = HitChange, m.kind, m.bar
		}
	}
	return h
}

// Nearest is Hit at the nearest place that lies in a system, for a pointer that
// drags something across gaps and past the ends.
func (l *GridLayout) Nearest(x, y float64) Hit {
	if k, ok := l.systemAt(y); !ok {
		above, below := l.Systems[max(k-1, 0)], l.Systems[min(k, len(l.Systems)-1)]
		if k > 0 && y-above.Bottom() <= below.Y-y || k == len(l.Systems) {
			y = above.Bottom() - 1
		} else {
			y = below.Y
		}
	}
	return l.Hit(x, y)
}

// systemAt returns the system at a height, or the first one below it.
func (l *GridLayout) systemAt(y float64) (int, bool) {
	k := sort.Search(len(l.Systems), func(k int) bool { return l.Systems[k].Bottom() > y })
	return k, k < len(l.Systems) && y >= l.Systems[k].Y
}

// barAt returns the bar of a system nearest to x.
func (l *GridLayout) barAt(s *System, x float64) int {
	n := sort.Search(s.EndBar-s.FirstBar, func(i int) bool { return l.Bars[s.FirstBar+i].Right() > x })
	return min(s.FirstBar+n, s.EndBar-1)
}

// timeAt returns the position at x in a bar, held to the bar.
func (l *GridLayout) timeAt(bar int, x float64) project.Ticks {
	b := &l.Bars[bar]
	t := b.Start + project.Ticks(math.Round((x-b.X-b.before)/b.musicWidth()*float64(b.End-b.Start)))
	return max(b.Start, min(t, b.End-1))
}

// onNumber reports whether x lies on the number of a bar, which stands before its
// first chord.
func (l *GridLayout) onNumber(bar int, x float64) bool {
	b := &l.Bars[bar]
	return x >= b.X && x < b.X+l.numberWidth(b)
}

func (l *GridLayout) hitRows(h *Hit, s *System, x, y float64) {
	h.Kind = HitRow
	h.Key = max(s.Low, s.High-int((y-s.Rows.Y)/l.Options.RowHeight))
	for i := len(s.leads) - 1; i >= 0; i-- {
		m := &s.leads[i]
		if !m.Contains(x, y) {
			continue
		}
		h.Kind, h.Index, h.Key = HitNote, m.note, l.leadKey(m.note)
		if reach := math.Min(noteEndReach, m.W/3); x >= m.Right()-reach && !m.ToAfter {
			h.Kind = HitNoteEnd
		}
		return
	}
}

func (l *GridLayout) hitLane(h *Hit, s *System, x, y float64) {
	for i := range s.signs {
		if math.Hypot(s.signs[i].x-x, s.signs[i].y-y) <= signRadius+2 {
			h.Kind, h.Index = HitFinding, s.signs[i].finding
			return
		}
	}
	h.Kind = HitLane
	h.Index = max(0, min(laneCount-1, int((y-s.Lanes.Y)/laneHeight)))
}

// labelAt returns the change whose label lies at x, -1 for none.
func (s *System) labelAt(x float64) int {
	for i := range s.labels {
		m := &s.labels[i]
		width := math.Max(TextWidth(m.text, SemiBold, SizeHead), TextWidth(m.function, Regular, SizeSmall))
		if x >= m.X-4 && x < m.X+math.Min(m.W, width)+4 {
			return m.change
		}
	}
	return -1
}

func (s *System) cueAt(x float64) int {
	for i := range s.cues {
		if m := &s.cues[i]; x >= m.X && x < m.X+math.Min(m.W, cueWidth(m)) {
			return m.cue
		}
	}
	return -1
}

// Snap returns the position nearest to t on the lines of a step counted from
// the start of t's bar, the end of the bar included.
func (l *GridLayout) Snap(t, step project.Ticks) project.Ticks {
	return l.snap(t, step, step/2)
}

// SnapDown returns the last line of a step at or before t: the cell a click
// falls in.
func (l *GridLayout) SnapDown(t, step project.Ticks) project.Ticks { return l.snap(t, step, 0) }

func (l *GridLayout) snap(t, step, round project.Ticks) project.Ticks {
	b := &l.Bars[l.Ruler.BarAt(t)]
	if step <= 0 {
		return t
	}
	return max(b.Start, min(b.Start+(t-b.Start+round)/step*step, b.End))
}

// Spot is a height of the picture as what stands there, which a later layout may
// have somewhere else: a key's row or a height of the bands above or under the
// rows, in the system of a bar.
type Spot struct {
	bar, key int
	band     band
	into     float64 // how far below the upper edge of row or band
}

// band tells rows from what stands over and under them.
type band uint8

const (
	overRows band = iota
	inRows
	underRows
)

// Rows reports whether a row of pitch stands there.
func (s Spot) Rows() bool { return s.band == inRows }

// SpotAt returns what stands at a height in units, between two systems the end of
// the upper one. With beyond it is a row also above and under those that there are.
func (l *GridLayout) SpotAt(y float64, beyond bool) Spot {
	k := max(0, sort.Search(len(l.Systems), func(k int) bool { return l.Systems[k].Y > y })-1)
	s := &l.Systems[k]
	switch {
	case beyond, y >= s.Rows.Y && y < s.Rows.Bottom():
		row := math.Floor((y - s.Rows.Y) / l.Options.RowHeight)
		return Spot{s.FirstBar, s.High - int(row), inRows, y - s.Rows.Y - row*l.Options.RowHeight}
	case y < s.Rows.Y:
		return Spot{s.FirstBar, 0, overRows, y - s.Y}
	}
	return Spot{s.FirstBar, 0, underRows, y - s.Lanes.Y}
}

// SpotY returns the height of a spot in this layout, that of the last bar's system
// where its bar is no more.
func (l *GridLayout) SpotY(p Spot) float64 {
	k := l.Bars[min(p.bar, len(l.Bars)-1)].System
	switch p.band {
	case inRows:
		return l.RowY(k, p.key) + p.into
	case underRows:
		return l.Systems[k].Lanes.Y + p.into
	}
	return l.Systems[k].Y + p.into
}
