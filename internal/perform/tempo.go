package perform

import (
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// defaultTempo stands in for a tempo that no chart may have.
const defaultTempo = 120

// barTempos returns the tempo in force in each written bar.
func barTempos(c *project.Chart) []float64 {
	tempos := make([]float64, len(c.Bars))
	current := c.Tempo
	if !(current > 0) {
		current = defaultTempo
	}
	for i, b := range c.Bars {
		if b.Tempo > 0 {
			current = b.Tempo
		}
		tempos[i] = current
	}
	return tempos
}

// setTempo adds an entry to the tempo map at the end of what is laid out.
func (p *Performance) setTempo(quarters float64) {
	if n := len(p.Tempos); n > 0 && p.Tempos[n-1].Quarters == quarters {
		return
	}
	seconds := 0.0
	if len(p.Tempos) > 0 {
		seconds = p.SecondsOf(p.Length)
	}
	p.Tempos = append(p.Tempos, Tempo{p.Length, seconds, quarters})
}

// TempoAt returns the tempo in force at a performed position.
func (p *Performance) TempoAt(at project.Ticks) Tempo {
	i := sort.Search(len(p.Tempos), func(i int) bool { return p.Tempos[i].At > at })
	return p.Tempos[max(0, i-1)]
}

// secondsPerTick returns the length of a tick in a tempo.
func (t Tempo) secondsPerTick() float64 { return 60 / t.Quarters / float64(project.Quarter) }

// SecondsOf returns the time of a performed position, counted from the start
// of the performance. Positions outside it continue its first or last tempo.
func (p *Performance) SecondsOf(at project.Ticks) float64 {
	t := p.TempoAt(at)
	return t.Seconds + float64(at-t.At)*t.secondsPerTick()
}

// TicksOf returns the performed position at a time; it is the inverse of
// SecondsOf, to the tick below.
func (p *Performance) TicksOf(seconds float64) project.Ticks {
	i := sort.Search(len(p.Tempos), func(i int) bool { return p.Tempos[i].Seconds > seconds })
	t := p.Tempos[max(0, i-1)]
	// A little is added so that rounding does not lose the tick itself.
	return t.At + project.Ticks((seconds-t.Seconds)/t.secondsPerTick()+1e-3)
}

// WrittenAt returns the position on the page that sounds at a time, for a
// cursor that follows the melody. ok is false outside the performance.
func (p *Performance) WrittenAt(seconds float64) (written project.Ticks, ok bool) {
	at := p.TicksOf(seconds)
	if seconds < 0 || at >= p.Length {
		return 0, false
	}
	b := p.playedAt(at)
	return p.page.Unbend(at-b.At+b.Written, arrange.RightHand), true
}

// BarOf returns the played bar that sounds at a time; ok is false outside the
// performance.
func (p *Performance) BarOf(seconds float64) (b PlayedBar, ok bool) {
	at := p.TicksOf(seconds)
	if seconds < 0 || at >= p.Length {
		return PlayedBar{}, false
	}
	return p.playedAt(at), true
}

// playedAt returns the played bar around a performed position inside the
// performance.
func (p *Performance) playedAt(at project.Ticks) PlayedBar {
	i := sort.Search(len(p.Played), func(i int) bool { return p.Played[i].At > at })
	return p.Played[max(0, i-1)]
}

// SecondsAt returns the time at which a position on the page is played for
// the first time; ok is false when it never is.
func (p *Performance) SecondsAt(written project.Ticks) (seconds float64, ok bool) {
	i := sort.Search(len(p.first), func(i int) bool { return p.Played[p.first[i]].Written > written }) - 1
	if i < 0 {
		return 0, false
	}
	b := p.Played[p.first[i]]
	if written >= b.Written+b.Length {
		return 0, false
	}
	return p.SecondsOf(p.page.Bend(written, arrange.RightHand) - b.Written + b.At), true
}
