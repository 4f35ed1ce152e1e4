package paint

import (
	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
)

// Defaults of GridOptions, in units.
const (
	DefaultPerQuarter = 64.0
	DefaultRowHeight  = 6.0
)

// Measures of the grid, in units.
const (
	gutter       = 30.0 // left of the bars: lane letters and octave names
	gridRight    = 6.0  // right of the bars, for the last bar line
	markHeight   = 18.0 // section labels, endings, jumps; only where there are any
	chordHeight  = 25.0 // chord symbols
	labelHeight  = 15.0 // the functions under them
	lanesGap     = 14.0 // between the rows and the lanes; the strain stands in it
	laneHeight   = 13.0 // one limb's lane
	laneBar      = 9.0  // the bar in a lane
	cueHeight    = 19.0 // registration, rotary and swell; only where they change
	noCueHeight  = 4.0  // without them
	systemGap    = 10.0 // below each system
	minBarWidth  = 44.0 // narrowest bar, so that a pickup can be clicked
	minRows      = 24   // fewest rows of pitch in a system
	rowMargin    = 1    // bare rows kept above and below the music
	rowsOpened   = 6    // rows that are opened at once in a chart that is edited: half an octave
	noteGap      = 2.0  // bare pixels after a note, so that repeated notes part
	laneCount    = 3
	noteEndReach = 5.0  // how near a note's end counts as its end
	doubleRoom   = 3.0  // what a double line takes
	finalRoom    = 8.0  // what the final line takes
	repeatRoom   = 15.0 // what a repeat sign takes from its bar
)

// GridOptions says how a chart is laid out.
type GridOptions struct {
	// Width is the room for a system, gutter included, in units.
	Width float64
	// PerQuarter is the wanted width of a quarter note (0:
	// DefaultPerQuarter); systems are stretched or squeezed a little to fill
	// the width with a musical number of bars.
	PerQuarter float64
	// RowHeight is the height of a row of pitch (0: DefaultRowHeight).
	RowHeight float64
	// CommonRange shows the same rows of pitch in every system.
	CommonRange bool
	// Keep gives systems at least the rows they had: a system that starts at
	// the bar of a range has all its keys, and more only where its music goes
	// beyond them.
	Keep []RowRange
	// Tight lets the music come up to the edge of rows that are kept; else it has
	// its margin in them.
	Tight bool
	// Passages names each passage over its first bar, for pictures that have
	// no passage strip.
	Passages bool
	// Words says an English word or form of the picture in the language of its
	// reader; nil leaves it in English.
	Words func(string) string
}

// say says a phrase in the language of the picture's reader.
func (o *GridOptions) say(p phrase.Phrase) string {
	if o.Words == nil {
		return p.String()
	}
	return p.In(o.Words)
}

// word says a word in the language of the picture's reader.
func (o *GridOptions) word(s string) string { return o.say(phrase.Of(s)) }

// RowRange is the keys that have rows in the system that starts at a bar.
type RowRange struct {
	Bar, Low, High int
}

// GridLayout is the geometry of a chart's bar grid. It is computed by
// LayoutGrid; what stands in a system is placed when it is first painted or
// pointed at, so a layout may be used by one goroutine at a time.
//
// Invariants: Systems partition the bars in order and follow each other
// downward without overlap; within a system bars follow each other to the
// right without overlap and without a gap.
type GridLayout struct {
	// Realisation is what the layout shows.
	Realisation *arrange.Realisation
	// Ruler measures its chart.
	Ruler *project.Ruler
	// Options are the options with defaults filled in.
	Options GridOptions
	Systems []System
	Bars    []GridBar
	// TotalHeight is the height of all systems in units.
	TotalHeight float64

	strain []float64 // of each bar, nil where it is not known
}

// System is one line of bars.
type System struct {
	Rect
	// FirstBar and EndBar are the bars of the system, end excluded.
	FirstBar, EndBar int
	// Start and End are its stretch of time.
	Start, End project.Ticks
	// Low and High are the lowest and highest MIDI key that has a row.
	Low, High int
	// Marks, Chords, Rows, Lanes and Cues are the horizontal bands, top to
	// bottom, as wide as the bars. Marks is empty where nothing is marked.
	Marks, Chords, Rows, Lanes, Cues Rect

	// placed tells that what follows is there, see GridLayout.placed.
	placed  bool
	leads   []leadMark
	voices  []voiceMark
	laneBar []laneMark
	labels  []chordLabel
	cues    []cueLabel
	signs   []findingSign
	tuplets []tupletMark
	changes []changeMark
}

// GridBar is the place of one bar.
type GridBar struct {
	// Rect reaches from the top of the system to its bottom.
	Rect
	// System is the index of its system.
	System int
	// Start and End are its stretch of time.
	Start, End project.Ticks
	// Number is the number printed, 0 for a pickup.
	Number int
	// before and after are the room that repeat signs take at its edges.
	before, after float64
}

// Segment is the part of a note that lies in one system.
type Segment struct {
	Rect
	System int
	// FromBefore and ToAfter tell that the note continues from the system
	// before or into the next.
	FromBefore, ToAfter bool
}

// leadMark is a melody note's bar.
type leadMark struct {
	Segment
	note int
	name string
	// pinned marks the user's own choice of block.
	pinned bool
}

// voiceMark is a voice under the lead.
type voiceMark struct {
	Rect
	limb  arrange.Limb
	layer arrange.Layer
	step  int
}

// laneMark is a limb's bar in its lane.
type laneMark struct {
	Rect
	limb arrange.Limb
}

// chordLabel is a chord symbol with its function.
type chordLabel struct {
	Rect
	change         int
	text, function string
	// english is the function in English, which its short forms are made of.
	english string
}

// cueLabel is a change of setting in words.
type cueLabel struct {
	Rect
	kind  arrange.CueKind
	text  string
	swell float64
	fast  project.Rotary
	cue   int
}

// findingSign is a triangle or octagon at the lane it speaks of.
type findingSign struct {
	x, y     float64
	severity arrange.Severity
	finding  int
}

// tupletMark is the number over a group that does not divide by two.
type tupletMark struct {
	x0, x1, y float64
	number    int
}

// LayoutGrid places everything of a realisation for a width.
func LayoutGrid(r *arrange.Realisation, opts GridOptions) *GridLayout {
	if opts.PerQuarter <= 0 {
		opts.PerQuarter = DefaultPerQuarter
	}
	if opts.RowHeight <= 0 {
		opts.RowHeight = DefaultRowHeight
	}
	l := &GridLayout{Realisation: r, Ruler: r.Chart.Ruler(), Options: opts}
	if reach := r.Reach(); reach != nil {
		l.strain = reach.BarStrain()
	}
	l.flow()
	l.rangeRows()
	l.stack()
	return l
}

// X returns where a position stands within its system. The end of the chart
// stands at the end of the last bar.
func (l *GridLayout) X(t project.Ticks) (system int, x float64) {
	i := l.Ruler.BarAt(t)
	return l.Bars[i].System, l.Bars[i].x(t)
}

// x returns where a position stands by the measure of this bar.
func (b *GridBar) x(t project.Ticks) float64 {
	return b.X + b.before + b.musicWidth()*float64(t-b.Start)/float64(b.End-b.Start)
}

// musicWidth returns the width that time is spread over.
func (b *GridBar) musicWidth() float64 { return b.W - b.before - b.after }

// xIn returns where a position stands in a system: inside the system by its
// bars, outside it at the nearer edge.
func (l *GridLayout) xIn(s *System, t project.Ticks) float64 {
	switch {
	case t < s.Start:
		return l.Bars[s.FirstBar].X
	case t > s.End:
		return l.Bars[s.EndBar-1].Right()
	case t == s.End:
		return l.Bars[s.EndBar-1].x(t)
	}
	return l.Bars[l.Ruler.BarAt(t)].x(t)
}

// endIn returns where a stretch of time that ends at t ends in a system: at
// the end of its bar rather than at the start of the next.
func (l *GridLayout) endIn(s *System, t project.Ticks) float64 {
	if t <= s.Start || t >= s.End {
		return l.xIn(s, t)
	}
	return l.Bars[l.Ruler.BarAt(t-1)].x(t)
}

// CursorX returns where a playhead or caret stands for a position: its
// system, its x, and the span of the rows, lanes and chord row it crosses.
func (l *GridLayout) CursorX(t project.Ticks) (system int, x, y0, y1 float64) {
	system, x = l.X(t)
	s := &l.Systems[system]
	return system, x, s.Chords.Y, s.Lanes.Bottom()
}

// RowY returns the top of a key's row in a system, beyond the rows for keys
// that have none.
func (l *GridLayout) RowY(system, key int) float64 {
	s := &l.Systems[system]
	return s.Rows.Y + float64(s.High-key)*l.Options.RowHeight
}

// NoteRect returns the place of melody note i where it starts. It is empty for
// an index outside the melody.
func (l *GridLayout) NoteRect(i int) Rect {
	if i < 0 || i >= len(l.Realisation.Chart.Melody) {
		return Rect{}
	}
	k, _ := l.X(l.Realisation.Chart.Melody[i].Start)
	return l.leadSegment(k, i).Rect
}

// NoteSegments returns the places of melody note i, one a system.
func (l *GridLayout) NoteSegments(i int) (out []Segment) {
	n := &l.Realisation.Chart.Melody[i]
	l.inSystems(n.Start, n.End(), func(k int) { out = append(out, l.leadSegment(k, i)) })
	return out
}

// PassageSystems returns the systems that show bars of a passage, end
// excluded: what a change of the passage repaints.
func (l *GridLayout) PassageSystems(passage int) (first, end int) {
	bar, last := l.Realisation.Chart.PassageBars(passage)
	return l.Bars[bar].System, l.Bars[last-1].System + 1
}
