package paint

import "organbook/internal/project"

// Tuplets are found in the melody itself, since a chart keeps exact lengths
// and no brackets. A group starts where the music leaves the lines that
// halving gives, and ends with the shortest span of time that holds it: one in
// which every start and end lies on equal parts and over whose end no note
// sounds. So three quarters in the time of two are one group over two beats,
// wherever they begin.

// plainGrid is the finest line that halving a quarter gives: 128th notes.
const plainGrid = project.Quarter / 32

// tupletSpans are the lengths a group can have, shortest first.
var tupletSpans = []project.Ticks{
	project.Quarter / 4, project.Quarter / 2, project.Quarter, 2 * project.Quarter, 3 * project.Quarter, 4 * project.Quarter,
}

// tupletParts are the numbers of equal parts that are written as a number over
// the notes.
var tupletParts = []project.Ticks{3, 5, 6, 7, 9}

// tupletStarts are the lines at which a group is looked for that begins with a
// rest, likeliest first.
var tupletStarts = []project.Ticks{project.Quarter, project.Quarter / 2, 2 * project.Quarter}

// placeTuplets brackets the groups of each bar. In compound meters three
// eighths share a beat by themselves, and nothing is bracketed.
func (l *GridLayout) placeTuplets() {
	chart := l.Realisation.Chart
	for i := range l.Bars {
		if meter := chart.Bars[i].Meter; meter.Pulse() == meter.Beat() {
			l.bracketBar(&l.Bars[i])
		}
	}
}

func (l *GridLayout) bracketBar(bar *GridBar) {
	s := &l.Systems[bar.System]
	marks := l.boundaries(bar)
	for i := 0; i < len(marks); {
		g, ok := groupAt(marks, i, bar.End-bar.Start)
		if !ok {
			i++
			continue
		}
		s.tuplets = append(s.tuplets, tupletMark{bar.x(bar.Start + g.start), bar.x(bar.Start + g.end), s.Rows.Y, int(g.parts)})
		for i < len(marks) && marks[i].at < g.end {
			i++
		}
	}
}

// boundary is a place in a bar, from its start, where a note starts or ends.
type boundary struct {
	at project.Ticks
	// sounds reports that a note starts here.
	sounds bool
}

// boundaries returns where notes start and end in a bar, in order; a note that
// is tied over a bar line starts or ends there.
func (l *GridLayout) boundaries(bar *GridBar) []boundary {
	chart := l.Realisation.Chart
	first, exact := chart.NoteStarting(bar.Start)
	if !exact && first > 0 && chart.Melody[first-1].End() > bar.Start {
		first--
	}
	var out []boundary
	add := func(b boundary) {
		if n := len(out); n > 0 && out[n-1].at == b.at {
			out[n-1].sounds = out[n-1].sounds || b.sounds
			return
		}
		out = append(out, b)
	}
	for _, n := range chart.Melody[first:] {
		if n.Start >= bar.End {
			break
		}
		add(boundary{max(n.Start, bar.Start) - bar.Start, true})
		add(boundary{min(n.End(), bar.End) - bar.Start, false})
	}
	return out
}

// group is a stretch of a bar in equal parts that halving does not give.
type group struct{ start, end, parts project.Ticks }

// groupAt returns the group that begins at boundary i, or, when that lies off
// the plain lines already, the one that begins with a rest before it.
func groupAt(marks []boundary, i int, length project.Ticks) (group, bool) {
	at := marks[i].at
	if at%plainGrid == 0 {
		if marks[i].sounds && i+1 < len(marks) && marks[i+1].at%plainGrid != 0 {
			return shortestGroup(marks[i:], at, length)
		}
		return group{}, false
	}
	for _, line := range tupletStarts {
		start := at / line * line
		if i > 0 && marks[i-1].at > start {
			continue
		}
		if g, ok := shortestGroup(marks[i:], start, length); ok {
			return g, true
		}
	}
	return group{}, false
}

// shortestGroup returns the shortest group from start on that the boundaries
// agree with: rather one with a note as long as a part, since two thirds of an
// eighth and a rest are seldom meant where a triplet eighth and rests are.
func shortestGroup(marks []boundary, start, length project.Ticks) (group, bool) {
	for _, strict := range []bool{true, false} {
		for _, span := range tupletSpans {
			if start+span > length || !closes(marks, start+span) {
				continue
			}
			for _, n := range tupletParts {
				g := group{start, start + span, n}
				if g.divides(marks) && (!strict || g.hasPart(marks)) {
					return g, true
				}
			}
		}
	}
	return group{}, false
}

// hasPart reports whether a note of the group lasts one part.
func (g group) hasPart(marks []boundary) bool {
	for i := 0; i+1 < len(marks) && marks[i+1].at <= g.end; i++ {
		if marks[i].sounds && marks[i].at >= g.start && (marks[i+1].at-marks[i].at)*g.parts == g.end-g.start {
			return true
		}
	}
	return false
}

// closes reports whether no note sounds over a place.
func closes(marks []boundary, at project.Ticks) bool {
	sounding := false
	for _, m := range marks {
		if m.at >= at {
			return m.at == at || !sounding
		}
		sounding = m.sounds
	}
	return !sounding
}

// divides reports whether every boundary within the group lies on its parts,
// and at least one of them off the plain lines.
func (g group) divides(marks []boundary) bool {
	off := false
	for _, m := range marks {
		if m.at <= g.start || m.at >= g.end {
			continue
		}
		if (m.at-g.start)*g.parts%(g.end-g.start) != 0 {
			return false
		}
		off = off || m.at%plainGrid != 0
	}
	return off
}
