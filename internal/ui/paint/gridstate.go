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
