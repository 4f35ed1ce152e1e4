package perform

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"organbook/internal/project"
)

// Transcribing turns what was played to a performance into notes on the page.
// The lines that a note can start or end on are laid out first, each with its
// place on the page and its place in time: under swing the off-beat lines lie
// late, as the performance plays them, so that swung eighths become eighths.
// Where triplets are allowed, each beat takes the lines that lie nearer to what
// was played in it. Then each stroke goes to its nearest line.

// Stroke is one key as it was played, in seconds of a performance. Down may be
// a little below zero: a first note that comes early.
type Stroke struct {
	Key      int
	Down, Up float64
}

// Grid says what a transcription is rounded to.
type Grid struct {
	// Value is the shortest note: 4, 8, 16 or 32 for a quarter to a
	// thirty-second.
	Value int
	// Triplets says where that note may be one of a triplet.
	Triplets Triplets
}

// Triplets says where triplets may be.
type Triplets uint8

// The choices.
const (
	// NoTriplets: everything is halved.
	NoTriplets Triplets = iota
	// SomeTriplets: beats in which they fit better have triplets.
	SomeTriplets
	// AllTriplets: every note is one of a triplet, or several tied.
	AllTriplets
)

// tripletReserve is by how much triplets must fit better, as a part of a
// quarter for a note that lies off: a swung pair of eighths is nearly two thirds
// of a triplet and means eighths.
const tripletReserve = 1.0 / 16

// Organists lift a little early, and nobody wants those rests written: where
// the rest would be a single grid step, a note reaches the next one if its key
// was held for at least detached of the way and lifted no more than lift before.
const (
	detached = 0.625
	lift     = project.Quarter * 2 / 5
)

// Transcribe returns what was played as notes of the melody, ascending and one
// at a time. Of keys struck together the highest is the melody; a key struck
// before the last is released takes over from it. A stroke before the start or
// after the end that is not near it is left out. Where a bar was played more
// than once the last time counts.
func (p *Performance) Transcribe(strokes []Stroke, g Grid) []project.Note {
	lines := p.lines(strokes, g)
	if len(lines) < 2 {
		return nil
	}
	hits := p.hits(strokes, lines)
	var notes []project.Note
	for i, h := range hits {
		next := len(lines) - 1
		if i+1 < len(hits) {
			next = hits[i+1].line
		}
		end := min(max(p.nearest(lines, h.up), h.line+1), next)
		if end == next-1 && i+1 < len(hits) && h.reaches(&hits[i+1]) {
			end = next
		}
		start := lines[h.line].written
		n := project.Note{Start: start, Duration: p.writtenEnd(lines, h.line, end) - start, Pitch: p.chart.Spell(start, h.key)}
		if n.Pitch.IsValid() {
			notes = append(notes, n)
		}
	}
	return oneLine(notes)
}

// line is a place where notes can start.
type line struct {
	written project.Ticks
	// at is where the performance plays it.
	at project.Ticks
}

// hit is a stroke at its line.
type hit struct {
	key, line int
	down, up  project.Ticks
}

// reaches reports whether a stroke was meant to last to the next one.
func (h *hit) reaches(next *hit) bool {
	return next.down-h.up <= lift && float64(h.up-h.down) >= detached*float64(next.down-h.down)
}

// hits puts every stroke on a line, one a line.
func (p *Performance) hits(strokes []Stroke, lines []line) []hit {
	var hits []hit
	for _, s := range strokes {
		h := hit{key: s.Key, down: p.TicksOf(s.Down), up: p.TicksOf(s.Up)}
		h.line = p.nearest(lines, h.down)
		if lines[h.line].at-h.down > lines[1].at-lines[0].at || h.line == len(lines)-1 || h.down >= p.Length {
			continue
		}
		hits = append(hits, h)
	}
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(b.key, a.key)) })
	return slices.CompactFunc(hits, func(a, b hit) bool { return a.line == b.line })
}

// nearest returns the line nearest to a performed position.
func (p *Performance) nearest(lines []line, at project.Ticks) int {
	i := sort.Search(len(lines), func(i int) bool { return lines[i].at >= at })
	if i == len(lines) || i > 0 && at-lines[i-1].at < lines[i].at-at {
		return i - 1
	}
	return i
}

// writtenEnd is where a note from one line to another ends on the page: where
// playing jumped in between, at the end of the bar it jumped from.
func (p *Performance) writtenEnd(lines []line, from, to int) project.Ticks {
	end := lines[from].written
	for i := from; i < to; i++ {
		step := lines[i+1].written - lines[i].written
		if b := p.playedAt(lines[i].at); step <= 0 || lines[i+1].written > b.Written+b.Length {
			return b.Written + b.Length
		}
		end += step
	}
	return end
}

// oneLine orders notes by their place on the page; of two at one place the
// later played stays, and each ends where the next begins.
func oneLine(notes []project.Note) []project.Note {
	slices.SortStableFunc(notes, func(a, b project.Note) int { return cmp.Compare(a.Start, b.Start) })
	var out []project.Note
	for _, n := range notes {
		if k := len(out) - 1; k >= 0 && out[k].Start == n.Start {
			out[k] = n
			continue
		} else if k >= 0 {
			out[k].Duration = min(out[k].Duration, n.Start-out[k].Start)
		}
		out = append(out, n)
	}
	return out
}

// lines lays out the lines of all played bars and the end.
func (p *Performance) lines(strokes []Stroke, g Grid) []line {
	if g.Value < 4 || g.Value > 32 || g.Value&(g.Value-1) != 0 {
		return nil
	}
	downs := make([]project.Ticks, len(strokes))
	for i, s := range strokes {
		downs[i] = p.TicksOf(s.Down)
	}
	slices.Sort(downs)
	var out []line
	for _, b := range p.Played {
		out = append(out, p.barLines(b, g, downs)...)
	}
	end := line{at: p.Length}
	if n := len(p.Played); n > 0 {
		end.written = p.Played[n-1].Written + p.Played[n-1].Length
	}
	return append(out, end)
}

// barLines lays out one bar, window by window: a beat, or two where the
// triplets are of quarters.
func (p *Performance) barLines(b PlayedBar, g Grid, downs []project.Ticks) (out []line) {
	straight := project.Whole / project.Ticks(g.Value)
	triplet := straight * 2 / 3
	window := max(project.Quarter, 2*straight)
	bar := &p.chart.Bars[b.Bar]
	compound := bar.Meter.Pulse() != bar.Meter.Beat()
	start := project.Ticks(0)
	if part := b.Length % window; bar.Unnumbered && part > 0 {
		start = part - window // a pickup is counted from its end
	}
	for ; start < b.Length; start += window {
		halves := p.window(b, start, start+window, straight, true)
		thirds := p.window(b, start, start+window, triplet, false)
		switch {
		case compound || g.Triplets == NoTriplets:
			out = append(out, halves...)
		case g.Triplets == AllTriplets || fits(thirds, halves, inside(downs, b.At+start, b.At+start+window)):
			out = append(out, thirds...)
		default:
			out = append(out, halves...)
		}
	}
	return out
}

// window lays out lines of one step from start to end of a bar, both counted
// from the bar's start; what lies before or after the bar is left out.
func (p *Performance) window(b PlayedBar, start, end, step project.Ticks, swung bool) (out []line) {
	for t := start; t < end; t += step {
		if t < 0 || t >= b.Length {
			continue
		}
		written := b.Written + t
		at := written
		if swung {
			at = p.page.BendAll(written)
		}
		out = append(out, line{written, at - b.Written + b.At})
	}
	return out
}

// fits reports whether what was struck in a window lies clearly nearer to one
// set of lines than to the other. A single stroke makes no triplet: it is a note
// that came early or late.
func fits(better, than []line, downs []project.Ticks) bool {
	reserve := float64(project.Quarter) * tripletReserve
	return len(downs) > 1 && math.Sqrt(distance(better, downs))+reserve < math.Sqrt(distance(than, downs))
}

// distance is the sum of the squares of how far strokes lie from their lines,
// the end of the window being a line too.
func distance(lines []line, downs []project.Ticks) (sum float64) {
	if len(lines) == 0 {
		return math.Inf(1)
	}
	step := project.Ticks(1)
	if len(lines) > 1 {
		step = lines[len(lines)-1].at - lines[len(lines)-2].at
	}
	for _, d := range downs {
		best := math.Abs(float64(lines[len(lines)-1].at + step - d))
		for _, l := range lines {
			best = min(best, math.Abs(float64(l.at-d)))
		}
		sum += best * best
	}
	return sum
}

// inside returns the part of ascending positions in a window.
func inside(list []project.Ticks, from, to project.Ticks) []project.Ticks {
	i, _ := slices.BinarySearch(list, from)
	j, _ := slices.BinarySearch(list, to)
	return list[i:j]
}
