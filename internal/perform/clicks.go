package perform

import "organbook/internal/project"

// Click is one tick of the metronome.
type Click struct {
	// At is the performed position; below zero in a count-in.
	At project.Ticks
	// Seconds is the time from the start of the performance; below zero in a
	// count-in.
	Seconds float64
	// Accent marks the first beat of a bar.
	Accent bool
}

// Clicks returns a click for each felt beat of the played bars. The beats of
// a pickup, or of the second half of a split bar, are counted from its end.
func (p *Performance) Clicks() []Click {
	var clicks []Click
	for _, b := range p.Played {
		bar := &p.chart.Bars[b.Bar]
		pulse := bar.Meter.Pulse()
		first := project.Ticks(0)
		if bar.Unnumbered {
			first = b.Length % pulse
		}
		for t := first; t < b.Length; t += pulse {
			clicks = append(clicks, p.click(b.At+t, t == 0 && !bar.Unnumbered))
		}
	}
	return clicks
}

// CountIn returns the clicks of whole bars before the start, in the first
// played bar's meter and tempo, and of the part of the bar that a pickup
// leaves out. Their times are below zero; the first is the earliest.
func (p *Performance) CountIn(bars int) []Click {
	bar := &p.chart.Bars[p.Played[0].Bar]
	meter, pulse := bar.Meter.Length(), bar.Meter.Pulse()
	total := meter * project.Ticks(bars)
	if missing := meter - bar.Length; bars > 0 && bar.Unnumbered && missing > 0 {
		total += missing
	}
	var clicks []Click
	for t := project.Ticks(0); t < total; t += pulse {
		clicks = append(clicks, p.click(t-total, t%meter == 0))
	}
	return clicks
}

func (p *Performance) click(at project.Ticks, accent bool) Click {
	return Click{at, p.SecondsOf(at), accent}
}
