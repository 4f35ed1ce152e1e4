package paint

import "organbook/internal/project"

// Tuplets are found in the melody itself, since a chart keeps exact lengths
// and no brackets. A group starts where the music leaves the lines that
// halving gives, and ends with the shortest span of time that holds it: one in
// which every start and end lies on equal parts and over whose ends no note
// sounds, or else one that is tied from plain notes or to them. So three quarters in the time of two are one group over two beats,
// wherever they begin.

// plainGrid is the finest line that halving a quarter gives: 128th notes.
const plainGrid = project.Quarter / 32

// tupletPlaces are the lengths a group can have, shortest first, and the lines
// at which one is looked for that begins with a rest, likeliest first.
type tupletPlaces struct{ spans, lines []project.Ticks }

// simplePlaces are those of meters in quarters and the like.
var simplePlaces = tupletPlaces{
	spans: []project.Ticks{project.Quarter / 4, project.Quarter / 2, project.Quarter, 2 * project.Quarter, 3 * project.Quarter, 4 * project.Quarter},
	lines: []project.Ticks{project.Quarter, project.Quarter / 2, 2 * project.Quarter},
}

// placesIn returns the places of a meter. In compound meters three eighths
// share a beat by themselves; what halves neither beat nor eighth is a group of
// one of them or of two beats.
func placesIn(m project.Meter) tupletPlaces {
	beat, pulse := m.Beat(), m.Pulse()
	if beat == pulse {
		return simplePlaces
	}
	return tupletPlaces{spans: []project.Ticks{beat / 2, beat, 2 * beat, pulse, 2 * pulse}, lines: []project.Ticks{pulse, beat}}
}

// tupletParts are the numbers of equal parts that are written as a number over
// the notes.
var tupletParts = []project.Ticks{3, 5, 6, 7, 9}

// placeTuplets brackets the groups of each bar of a system.
func (l *GridLayout) placeTuplets(s *System) {
	chart := l.Realisation.Chart
	for i := s.FirstBar; i < s.EndBar; i++ {
		l.bracketBar(&l.Bars[i], placesIn(chart.Bars[i].Meter))
	}
}

func (l *GridLayout) bracketBar(bar *GridBar, at tupletPlaces) {
	s := &l.Systems[bar.System]
	marks := l.boundaries(bar)
	for i := 0; i < len(marks); {
		g, ok := at.group(marks, i, bar.End-bar.Start)
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

// group returns the group that begins at boundary i, within the note that starts
// there, or, when that lies off the plain lines already, the one that begins
// with a rest before it. The fewest parts are likeliest: a half tied to the
// first of three eighths is written as that and not as nine parts of three
// beats.
func (p tupletPlaces) group(marks []boundary, i int, length project.Ticks) (group, bool) {
	starts := p.starts(marks, i)
	for _, n := range tupletParts {
		for _, over := range []bool{false, true} {
			for _, start := range starts {
				if g, ok := p.shortest(marks[i:], group{start: start, parts: n}, length, over); ok {
					return g, true
				}
			}
		}
	}
	return group{}, false
}

// starts returns where a group may begin that boundary i belongs to, likeliest
// first.
func (p tupletPlaces) starts(marks []boundary, i int) []project.Ticks {
	at, end := marks[i].at, marks[i].at
	var out []project.Ticks
	if at%plainGrid == 0 {
		if !marks[i].sounds || i+1 == len(marks) || marks[i+1].at%plainGrid == 0 {
			return nil
		}
		out, end = append(out, at), marks[i+1].at // or the note is tied from a plain one
	}
	for _, line := range p.lines {
		start := end / line * line
		if at%plainGrid == 0 && start > at || at%plainGrid != 0 && (i == 0 || marks[i-1].at <= start) {
			out = append(out, start)
		}
	}
	return out
}

// shortest returns g with the shortest span that the boundaries agree with:
// rather one with a note as long as a part, since two thirds of an eighth and a
// rest are seldom meant where a triplet eighth and rests are. With over, a note
// may sound over the end, to which it is tied.
func (p tupletPlaces) shortest(marks []boundary, g group, length project.Ticks, over bool) (group, bool) {
	for _, strict := range []bool{true, false} {
		for _, span := range p.spans {
			g.end = g.start + span
			if g.end <= length && p.closes(marks, g.end, over) && g.divides(marks) && (!strict || g.hasPart(marks)) {
				return g, true
			}
		}
	}
	return group{}, false
}

// hasPart reports whether a note, or what is tied of it into the group, lasts
// one part.
func (g group) hasPart(marks []boundary) bool {
	for i := 0; i+1 < len(marks) && marks[i].at < g.end; i++ {
		if part := min(marks[i+1].at, g.end) - max(marks[i].at, g.start); marks[i].sounds && part*g.parts == g.end-g.start {
			return true
		}
	}
	return false
}

// closes reports whether no note sounds over a place or, with over, one that is
// tied from there to plain notes: it ends on a plain line or lasts a beat more.
func (p tupletPlaces) closes(marks []boundary, at project.Ticks, over bool) bool {
	sounding := false
	for _, m := range marks {
		if m.at >= at {
			return m.at == at || !sounding || over && (m.at%plainGrid == 0 || m.at-at >= p.lines[0])
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
