package paint

import "organbook/internal/project"

// GridState is what the window shows on top of a layout. The zero value shows
// the chart alone.
type GridState struct {
	// Selected holds the indexes of the selected melody notes.
	Selected map[int]bool
	// Chord, when not nil, points to the index of the selected change.
	Chord *int
	// Caret, when not nil, is where the next note will be entered.
	Caret *Caret
	// Passage, when not nil, points to the index of the passage in force.
	Passage *int
	// Hover is what the pointer is over; a bare row is lit under it.
	Hover Hit
	// LoopStart and LoopEnd bound the stretch that is played in a loop; no
	// loop when they are equal.
	LoopStart, LoopEnd project.Ticks
	// Ghosts are notes that are not there: where a drag would put them.
	Ghosts []Ghost
}

// Ghost is a note that is not there.
type Ghost struct {
	Start, Duration project.Ticks
	Key             int
}

// ghostAlpha is how much of what lies under a ghost it covers, of 255.
const ghostAlpha = 90

// ghosts paints what a drag would give in a system.
func (p *gridPainter) ghosts(k int) {
	h, face := p.l.Options.RowHeight+4, p.th.Accent
	face.A = ghostAlpha
	for _, g := range p.st.Ghosts {
		s := &p.l.Systems[k]
		if g.Start >= s.End || g.Start+g.Duration <= s.Start {
			continue
		}
		r := p.l.segment(k, g.Start, g.Start+g.Duration, p.l.RowY(k, g.Key)-2, h).Rect
		if p.Shows(r) {
			p.RoundRect(r, noteRadius, face)
			p.StrokeRound(r, noteRadius, 1.5, p.th.Accent)
		}
	}
}

// Caret is the place of entry: a position, the row of the next note and how
// long it will be.
type Caret struct {
	At, Length project.Ticks
	Key        int
}

// CaretRect returns the row cell the caret covers, for repainting.
func (l *GridLayout) CaretRect(c Caret) Rect {
	k, x := l.X(c.At)
	s := &l.Systems[k]
	right := l.endIn(s, min(c.At+c.Length, s.End))
	y := l.RowY(k, c.Key)
	return Rect{x - 2, min(y, s.Chords.Y), right - x + 4, s.Lanes.Bottom() - s.Chords.Y}
}
