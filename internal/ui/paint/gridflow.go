package paint

import (
	"math"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// systemBars are the numbers of bars a full system may hold: phrases are
// counted in twos and fours, so that the same place of a tune stands in the
// same column of the page.
var systemBars = []int{16, 12, 8, 4, 2, 1}

// squeeze is how far bars may be narrowed below the wanted width to fit a
// whole number of fours.
const squeeze = 0.70

// flow breaks the bars into systems and gives each bar its x and width.
func (l *GridLayout) flow() {
	chart := l.Realisation.Chart
	room := math.Max(minBarWidth, l.Options.Width-gutter-gridRight)
	l.Bars = make([]GridBar, len(chart.Bars))
	symbols := l.symbolWidths()
	for i := range l.Bars {
		start := l.Ruler.BarStart(i)
		l.Bars[i] = GridBar{Start: start, End: start + chart.Bars[i].Length, Number: l.Ruler.BarNumber(i)}
		if chart.Bars[i].RepeatStart {
			l.Bars[i].before = repeatRoom
		}
		if chart.Bars[i].RepeatEnd {
			l.Bars[i].after = repeatRoom
		} else if i == len(chart.Bars)-1 {
			l.Bars[i].after = finalRoom
		} else if l.endsSection(i) {
			l.Bars[i].after = doubleRoom
		}
		l.Bars[i].W = l.naturalWidth(i, symbols[i])
	}
	count, stretch := len(l.Bars), mixedStretch
	if typical, ok := l.typicalWidth(); ok {
		count = barsPerSystem(room, typical)
		stretch = room / (typical * float64(count))
	}
	for first := 0; first < len(l.Bars); {
		end := l.systemEnd(first, count, room)
		l.justify(first, end, room, stretch)
		first = end
	}
}

// endsSection reports whether a double line stands at the end of bar i.
func (l *GridLayout) endsSection(i int) bool {
	bars := l.Realisation.Chart.Bars
	return i+1 < len(bars) && bars[i+1].Section != "" && !bars[i+1].RepeatStart && !bars[i].RepeatEnd
}

// symbolGap is the room between chord symbols that lie side by side.
const symbolGap = 10.0

// symbolWidths returns the room that the symbols of each bar need side by side to be
// read; bars that are made narrow on purpose may have them smaller.
func (l *GridLayout) symbolWidths() []float64 {
	widths := make([]float64, len(l.Bars))
	size := SizeSmall * math.Min(1, l.Options.PerQuarter/DefaultPerQuarter)
	for _, change := range l.Realisation.Chart.Changes {
		widths[l.Ruler.BarAt(change.Start)] += TextWidth(chordText(change.Chord), SemiBold, size) + symbolGap
	}
	return widths
}

// naturalWidth returns the wanted width of a bar. Signs at its edges take their
// room from the music, so that bars stay in columns, unless it is very short; its
// chord symbols, a change of meter, key or tempo and an instruction at the bar's end
// have room for their words.
func (l *GridLayout) naturalWidth(i int, symbols float64) float64 {
	quarters := float64(l.Realisation.Chart.Bars[i].Length) / float64(project.Quarter)
	least := minBarWidth + l.Bars[i].before + l.Bars[i].after
	words := l.changesWidth(i)
	if text := endText(&l.Realisation.Chart.Bars[i]); text != "" {
		words += endGap + endWidth(text) + 5
	}
	if words > 0 { // bars may be squeezed after this
		least = math.Max(least, (l.marksLead(i)+words)/squeeze)
	}
	if symbols > 0 {
		least = math.Max(least, (symbols+symbolGap)/squeeze)
	}
	return math.Max(least, quarters*l.Options.PerQuarter)
}

// mixedStretch is how far bars of many lengths, which stand in no columns, may be
// widened to fill a system.
const mixedStretch = 1.15

// typicalWidth returns the wanted width of the commonest bar; ok is false where bars
// are of so many lengths that no third of them is alike.
func (l *GridLayout) typicalWidth() (width float64, ok bool) {
	counts := map[float64]int{}
	for _, b := range l.Bars {
		counts[b.W]++
		if n := counts[b.W]; n > counts[width] || n == counts[width] && b.W > width {
			width = b.W
		}
	}
	return width, counts[width]*3 >= len(l.Bars)
}

// barsPerSystem returns how many bars of a width a full system holds.
func barsPerSystem(room, width float64) int {
	for _, n := range systemBars {
		if float64(n)*width*squeeze <= room {
			return n
		}
	}
	return 1
}

// systemEnd returns the bar after the last one of the system that starts at
// first: after count numbered bars, before a section or passage, or when the
// room is used up.
func (l *GridLayout) systemEnd(first, count int, room float64) int {
	numbered, width := 0, 0.0
	for i := first; i < len(l.Bars); i++ {
		if i > first && l.breaksBefore(i, first) {
			return i
		}
		if !l.isSplinter(i) {
			numbered++
		}
		width += l.Bars[i].W
		if i > first && (numbered > count || width*squeeze > room+1) {
			return i
		}
	}
	return len(l.Bars)
}

// breaksBefore reports whether bar i should start a system of its own.
func (l *GridLayout) breaksBefore(i, first int) bool {
	chart := l.Realisation.Chart
	if i == first+1 && l.isSplinter(first) {
		return false // a pickup leads into what follows
	}
	return chart.Bars[i].Section != "" || chart.Passages != nil && chart.Passages[chart.PassageAt(i)].First == i
}

// isSplinter reports whether a bar does not count as one: a pickup or the
// second half of a split bar.
func (l *GridLayout) isSplinter(i int) bool {
	bar := &l.Realisation.Chart.Bars[i]
	return bar.Unnumbered && bar.Length < bar.Meter.Length()
}

// justify places the bars from first to end in one system, widened to fill
// the room; a system with fewer bars than usual keeps the measure of the full
// ones, so that bars stand in columns.
func (l *GridLayout) justify(first, end int, room, stretch float64) {
	sum := 0.0
	for i := first; i < end; i++ {
		sum += l.Bars[i].W
	}
	factor := room / sum
	if factor > stretch && factor > 1.12*stretch {
		factor = stretch
	}
	x := gutter
	for i := first; i < end; i++ {
		b := &l.Bars[i]
		b.System, b.X = len(l.Systems), x
		b.W *= factor
		if signs := b.before + b.after; signs > b.W/2 { // at most half a bar
			b.before, b.after = b.before*b.W/2/signs, b.after*b.W/2/signs
		}
		x += b.W
	}
	l.Systems = append(l.Systems, System{
		FirstBar: first, EndBar: end, Start: l.Bars[first].Start, End: l.Bars[end-1].End,
	})
}

// stack gives every system and bar its height and place, top down.
func (l *GridLayout) stack() {
	y := 0.0
	for k := range l.Systems {
		s := &l.Systems[k]
		x, right := l.Bars[s.FirstBar].X, l.Bars[s.EndBar-1].Right()
		top := y
		band := func(h float64) Rect {
			r := Rect{x, y, right - x, h}
			y += h
			return r
		}
		if l.hasMarks(s) {
			s.Marks = band(markHeight)
		}
		s.Chords = band(chordHeight + labelHeight)
		s.Rows = band(float64(s.High-s.Low+1) * l.Options.RowHeight)
		y += lanesGap
		s.Lanes = band(laneCount * laneHeight)
		if l.hasCues(s) {
			s.Cues = band(cueHeight)
		} else {
			s.Cues = band(noCueHeight)
		}
		s.Rect = Rect{0, top, l.Options.Width, y - top}
		for i := s.FirstBar; i < s.EndBar; i++ {
			l.Bars[i].Y, l.Bars[i].H = top, y-top
		}
		y += systemGap
	}
	l.TotalHeight = y
}

// hasCues reports whether a setting changes in a system.
func (l *GridLayout) hasCues(s *System) bool {
	return slices.ContainsFunc(l.Realisation.Cues, func(c arrange.Cue) bool {
		return c.Start >= s.Start && c.Start < s.End
	})
}

// hasMarks reports whether anything stands above the chords of a system.
func (l *GridLayout) hasMarks(s *System) bool {
	chart := l.Realisation.Chart
	for i := s.FirstBar; i < s.EndBar; i++ {
		b := &chart.Bars[i]
		if b.Section != "" || b.Ending != nil || b.Segno || b.Coda || b.Fine || b.ToCoda || b.Jump != project.NoJump {
			return true
		}
		if len(l.changesAt(i)) > 0 {
			return true
		}
		if l.startsPassage(i) && (l.Options.Passages || l.octaveText(i) != "") {
			return true
		}
	}
	return false
}

// startsPassage reports whether a passage starts at bar i.
func (l *GridLayout) startsPassage(i int) bool {
	chart := l.Realisation.Chart
	return len(chart.Passages) > 0 && chart.Passages[chart.PassageAt(i)].First == i
}

// octaveText returns how far from the written pitch the lead of the passage
// at bar i sounds, as print writes it; empty for as written.
func (l *GridLayout) octaveText(i int) string {
	chart := l.Realisation.Chart
	if len(chart.Passages) == 0 {
		return ""
	}
	return map[int]string{1: "8va", 2: "15ma", -1: "8vb", -2: "15mb"}[chart.Passages[chart.PassageAt(i)].Treatment.LeadOctave]
}
