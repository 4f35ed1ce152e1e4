package musicxml

import (
	"math"
	"slices"

	"organbook/internal/project"
)

// marker writes repeats, signs, tempos and sections into a chart's bars.
type marker struct {
	c     *project.Chart
	w     *walk
	notes *notices
	// segnos and codas are the signs found so far: the target of a jump, or a
	// part of the instruction to jump.
	segnos, codas []glyph
}

// glyph is a sign at the start of a bar or further on in it.
type glyph struct {
	bar     int
	atStart bool
}

// mark takes over what is written above and between the bars of the melody's
// part. Signs that hold for all parts often stand in the first one only.
func (s *score) mark(c *project.Chart, w *walk, melodyIndex int, notes *notices) {
	m := marker{c: c, w: w, notes: notes}
	m.repeats()
	m.endings()
	directions := w.directions
	if melodyIndex > 0 && !slices.ContainsFunc(directions, func(d placed[*directionItem]) bool { return d.item.says() }) {
		directions = walkPart(s.parts[0], newNotices()).directions
	}
	for _, d := range directions {
		m.direction(d)
	}
	m.placeSegnos()
	m.placeCodas()
	m.tempos(directions)
	m.swing(directions)
}

// says reports whether a direction holds anything for the chart.
func (d *directionItem) says() bool {
	return d.section != "" || d.tempo > 0 || d.swing > 0 || d.segno || d.coda || d.toCoda || d.fine || d.jump != project.NoJump
}

// repeats sets the repeat signs at the bars' edges.
func (m *marker) repeats() {
	for _, b := range m.w.barlines {
		if b.item.location == "middle" && (b.item.forward || b.item.backward) {
			m.notes.add(m.w.bars[b.bar].number, "a repeat sign inside a bar is moved to the bar's edge")
		}
		if i := b.bar + boolInt(m.rightSide(b)); b.item.forward && i < len(m.c.Bars) {
			m.c.Bars[i].RepeatStart = true
		}
		if i := b.bar - boolInt(!m.rightSide(b)); b.item.backward && i >= 0 {
			m.c.Bars[i].RepeatEnd = true
			m.c.Bars[i].Times = max(m.c.Bars[i].Times, b.item.times)
		}
		if b.item.segno {
			m.segnos = append(m.segnos, glyph{b.bar, !m.rightSide(b)})
		}
		if b.item.coda {
			m.codas = append(m.codas, glyph{b.bar, !m.rightSide(b)})
		}
	}
}

// rightSide tells on which side of its bar a barline stands. One without a
// location stands where the file has it.
func (m *marker) rightSide(b placed[*barlineItem]) bool {
	switch b.item.location {
	case "left":
		return false
	case "right", "middle":
		return true
	}
	return b.at.sign() > 0
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// endings numbers the bars under each ending bracket. A bracket ends where the
// file says, at a backward repeat, or where another begins.
func (m *marker) endings() {
	var open []int
	from, last := 0, 0 // where the bracket began; the highest number so far
	next := 0
	for i := range m.c.Bars {
		stop := false
		for ; next < len(m.w.barlines) && m.w.barlines[next].bar == i; next++ {
			b := m.w.barlines[next]
			if b.item.endingStart {
				if open = b.item.ending; len(open) == 0 {
					open = []int{min(last+1, project.MaxTimes)}
				}
				from, last = i, open[len(open)-1]
				m.c.Bars[i].EndingStart = true
			}
			if b.item.endingStop && !m.rightSide(b) && !b.item.endingStart {
				open = nil // ends before this bar
			}
			stop = stop || b.item.endingStop
		}
		m.c.Bars[i].Ending = open
		if stop || m.c.Bars[i].RepeatEnd {
			open = nil
		}
	}
	if open != nil && from < len(m.c.Bars)-1 {
		m.notes.add(m.w.bars[from].number, "an ending that is never closed is kept to one bar")
		for i := from + 1; i < len(m.c.Bars); i++ {
			m.c.Bars[i].Ending = nil
		}
	}
}

// direction sets the signs of one direction. Sections and targets belong to
// the start of a bar, instructions to leave to its end.
func (m *marker) direction(d placed[*directionItem]) {
	if d.bar >= len(m.c.Bars) {
		return
	}
	here := &m.c.Bars[d.bar]
	start := m.barFrom(d)
	if section := d.item.section; section != "" {
		m.c.Bars[start].Section = project.OneLine(m.c.Bars[start].Section+" "+section, project.MaxLabel)
	}
	if d.item.segno {
		m.segnos = append(m.segnos, glyph{d.bar, start == d.bar})
	}
	if d.item.coda {
		m.codas = append(m.codas, glyph{d.bar, d.at.sign() <= 0})
	}
	here.ToCoda = here.ToCoda || d.item.toCoda
	here.Fine = here.Fine || d.item.fine
	if d.item.jump != project.NoJump {
		here.Jump = d.item.jump
	}
}

// barFrom returns the bar that a direction at its end or beyond opens.
func (m *marker) barFrom(d placed[*directionItem]) int {
	if d.at.ticks() >= m.c.Bars[d.bar].Length && d.bar+1 < len(m.c.Bars) {
		return d.bar + 1
	}
	return d.bar
}

// placeSegnos marks the bars that segno signs open. One that ends a bar with
// "D.S." belongs to the words.
func (m *marker) placeSegnos() {
	for _, g := range m.segnos {
		if jump := m.c.Bars[g.bar].Jump; g.atStart || jump < project.DalSegno {
			m.c.Bars[m.opened(g)].Segno = true
		}
	}
}

// placeCodas decides what the coda signs mean: where nothing says "to coda",
// the first of several is the place to leave from; beside the words "to coda"
// the sign only repeats them.
func (m *marker) placeCodas() {
	hasToCoda := slices.ContainsFunc(m.c.Bars, func(b project.Bar) bool { return b.ToCoda })
	for i, g := range m.codas {
		switch {
		case !hasToCoda && i == 0 && len(m.codas) > 1:
			m.c.Bars[max(0, g.bar-boolInt(g.atStart))].ToCoda = true
		case hasToCoda && !g.atStart && m.c.Bars[g.bar].ToCoda:
		default:
			m.c.Bars[m.opened(g)].Coda = true
		}
	}
}

// opened returns the bar that begins at a sign.
func (m *marker) opened(g glyph) int {
	return min(g.bar+boolInt(!g.atStart), len(m.c.Bars)-1)
}

// tempos sets the tempo at the start and where it changes. A change inside a
// bar holds from the following one.
func (m *marker) tempos(directions []placed[*directionItem]) {
	marks := map[int]float64{}
	first := true
	for _, d := range directions {
		if d.item.tempo <= 0 || d.bar >= len(m.c.Bars) {
			continue
		}
		tempo := max(project.MinTempo, min(d.item.tempo, project.MaxTempo))
		if tempo != d.item.tempo {
			m.notes.add(m.w.number(d.bar), "a tempo of %.0f is brought to %.0f", d.item.tempo, tempo)
		}
		bar := d.bar
		if d.at.sign() > 0 && !(first && d.bar == 0) {
			bar++
		}
		marks[bar], first = math.Round(tempo*1000)/1000, false
	}
	if t, ok := marks[0]; ok {
		m.c.Tempo = t
	}
	current := m.c.Tempo
	for i := 1; i < len(m.c.Bars); i++ {
		if t, ok := marks[i]; ok && t != current {
			m.c.Bars[i].Tempo, current = t, t
		}
	}
}

// number returns the printed number of a bar, "" beyond the last.
func (w *walk) number(bar int) string {
	if bar < len(w.bars) {
		return w.bars[bar].number
	}
	return ""
}

// swing takes the first swing the file states, or else the feel that the words
// over the first bars suggest.
func (m *marker) swing(directions []placed[*directionItem]) {
	for _, hinted := range []bool{false, true} {
		for _, d := range directions {
			if d.item.swing > 0 && d.item.hinted == hinted && (!hinted || d.bar < 2) {
				m.c.Swing = d.item.swing
				return
			}
		}
	}
}
