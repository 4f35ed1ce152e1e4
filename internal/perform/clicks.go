package perform

import "organbook/internal/project"

// Click is one tick of the metronome.
type Click struct {
	// At is the performed position, in a count-in from where playing begins.
	At project.Ticks
	// Seconds is the time from the start of the performance, in a count-in from
	// where playing begins.
	Seconds float64
	// Accent marks the first beat of a bar, Group the first of its other groups of
	// beats, in bars that have some.
	Accent, Group bool
}

// Clicks returns a click for each felt beat of the played bars. The beats of
// a pickup, or of the second half of a split bar, are counted from its end.
func (p *Performance) Clicks() []Click {
	var clicks []Click
	for _, b := range p.Played {
		bar := &p.chart.Bars[b.Bar]
		pulse := bar.Meter.Pulse()
		first, counted := project.Ticks(0), project.Ticks(0)
		if bar.Unnumbered {
			first, counted = b.Length%pulse, bar.Meter.Length()-b.Length
		}
		for t := first; t < b.Length; t += pulse {
			accent := t == 0 && !bar.Unnumbered
			clicks = append(clicks, Click{b.At + t, p.SecondsOf(b.At + t), accent, !accent && bar.Meter.StartsGroup(counted+t)})
		}
	}
	return clicks
}

// CountIn returns the clicks before a second at which playing begins: of whole
// bars in the meter and tempo that hold there, and of the part of the bar that lies
// before it or that a pickup leaves out. Their positions and times are counted from
// that second and below zero; the first is the earliest.
func (p *Performance) CountIn(bars int, from float64) []Click {
	at := p.TicksOf(max(from, 0))
	b := p.playedAt(at)
	bar, tempo := &p.chart.Bars[b.Bar], p.TempoAt(at)
	meter, pulse := bar.Meter.Length(), bar.Meter.Pulse()
	into := at - b.At
	if missing := meter - bar.Length; bar.Unnumbered && missing > 0 {
		into += missing
	}
	total := meter*project.Ticks(bars) + into
	var clicks []Click
	for t := project.Ticks(0); bars > 0 && t < total; t += pulse {
		in := t % meter
		clicks = append(clicks, Click{t - total, float64(t-total) * tempo.secondsPerTick(), in == 0, in > 0 && bar.Meter.StartsGroup(in)})
	}
	return clicks
}
