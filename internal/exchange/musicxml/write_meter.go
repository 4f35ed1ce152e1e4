package musicxml

import "organbook/internal/project"

// grid is the metric frame of one bar: which positions are strong. Positions
// count from the start of the bar.
type grid struct {
	length project.Ticks
	// origin is what a pickup, or the second half of a split bar, is short of
	// at its front.
	origin project.Ticks
	// beat is the note under the meter's line, a quarter at most.
	beat project.Ticks
	// units are the distances of ever weaker positions: bar, half bar, felt
	// beat, then halves down to the finest value.
	units []project.Ticks
	// pulse and half are the places of the felt beat and of the half bar in
	// units; half is -1 in bars that have none.
	pulse, half int
	compound    bool
}

func newGrid(m project.Meter, length, origin project.Ticks) grid {
	g := grid{length: length, half: -1, beat: min(m.Beat(), project.Quarter), compound: m.Pulse() != m.Beat()}
	if origin%finest == 0 {
		g.origin = origin
	}
	bar := m.Length()
	g.units = []project.Ticks{bar}
	if pulses := bar / m.Pulse(); pulses%2 == 0 && pulses > 2 {
		g.half = 1
		g.units = append(g.units, bar/2)
	}
	g.pulse = len(g.units)
	for u := m.Pulse(); u >= finest && u%finest == 0; u /= 2 {
		if u == m.Pulse() && g.compound {
			g.units = append(g.units, u)
			u = 2 * m.Beat()
			continue
		}
		g.units = append(g.units, u)
	}
	return g
}

// rank returns the place in units of the strongest unit that a position lies
// on; low is strong. Positions between the finest values are weakest.
func (g *grid) rank(t project.Ticks) int {
	for i, u := range g.units {
		if (t+g.origin)%u == 0 {
			return i
		}
	}
	return len(g.units)
}

// strongest returns the first of the strongest positions strictly between a
// and b, and its rank.
func (g *grid) strongest(a, b project.Ticks) (t project.Ticks, rank int, ok bool) {
	for i, u := range g.units {
		t := (a+g.origin)/u*u + u - g.origin
		if t < b {
			return t, i, true
		}
	}
	return 0, 0, false
}

// readable reports whether one note from a to b with the given value shows
// the beats well enough: no position inside is stronger than both its ends,
// except under a plain syncopation that leaves the middle of the bar visible.
func (g *grid) readable(a, b project.Ticks, w written) bool {
	_, inside, ok := g.strongest(a, b)
	if !ok {
		return true
	}
	from, to := g.rank(a), g.rank(b)
	if b == g.length {
		to = 0
	}
	if from <= inside || to <= inside {
		return true
	}
	if g.compound || w.dotted || (a+g.origin)%(w.ticks/2) != 0 || inside == 0 {
		return false
	}
	return inside != g.half || from <= g.pulse
}

// split cuts a plain stretch into written notes.
func (g *grid) split(a, b project.Ticks) []span {
	w, ok := valueOf(b - a)
	if ok && g.readable(a, b, w) {
		return []span{{a, b, w, nil}}
	}
	t, _, ok := g.strongest(a, b)
	if !ok {
		return []span{{a, b, written{}, nil}}
	}
	return append(g.split(a, t), g.split(t, b)...)
}
