package reach

import (
	"math"

	"organbook/internal/phrase"
)

// Load is how tiring the playing of a hand is around a moment.
type Load struct {
	At Ticks
	// Start is in seconds.
	Start float64
	// Value is the load averaged over the last seconds: 0 is rest, 1 the
	// limit of stretch or speed.
	Value float64
}

// The load is an average over the last loadWindow seconds. A hand that stays
// above careLevel for careTime calls for the caution. The figures are a
// cautious guess, not medicine: there is no known safe dose.
const (
	loadWindow = 6.0
	careLevel  = 0.75
	careTime   = 12.0
)

// Care is the caution about strain.
const Care = "Sustained wide stretches or long fast block passages strain the hands. Warm up, rest often, never play on through pain; " +
	"ask a teacher or a health professional if it comes back. This is no medical advice, and the limits here are estimates."

// strain returns the load at each moment of a hand.
func (h *hand) strain(grips []grip) []Load {
	out := make([]Load, len(h.moments))
	value := 0.0
	for i := range h.moments {
		m := &h.moments[i]
		if i > 0 {
			value *= math.Exp(-h.joins[i-1].time / loadWindow)
		}
		value += (1 - math.Exp(-h.effortTime(i)/loadWindow)) * h.effort(i, grips)
		out[i] = Load{m.at, m.start, value}
	}
	return out
}

// effortTime is how long the effort of a moment lasts: until the next one, a
// second at most.
func (h *hand) effortTime(i int) float64 {
	if i < len(h.joins) {
		return min(1, h.joins[i].time)
	}
	return 1
}

// effort is the load of one moment: the larger of its stretch, as a part of the
// maximal one, and its haste, which weighs by the number of keys; a single
// line does not tire a hand as blocks do.
func (h *hand) effort(i int, grips []grip) float64 {
	m := &h.moments[i]
	stretch := float64(m.width()) / float64(hundredths(h.stretch.Maximal))
	if i == 0 {
		return stretch
	}
	haste := 0.0
	if time := h.joins[i-1].time; time > 0 {
		haste = min(1.5, h.needTime(i-1, grips[i-1], grips[i])/time) * (0.4 + 0.15*float64(len(m.presses)))
	}
	return max(stretch, haste)
}

// care states the caution once, where a hand first stays above the level long
// enough.
func (c *checker) care() {
	for limb := range c.report.Strain {
		loads := c.report.Strain[limb]
		from := -1
		for i, l := range loads {
			if l.Value < careLevel {
				from = -1
				continue
			}
			if from < 0 {
				from = i
			}
			if l.Start-loads[from].Start >= careTime && c.report.Care == "" {
				c.report.Care = Care
				f := Finding{Kind: Strain, Severity: Caution, Limb: Limb(limb), At: loads[from].At}
				f.Text = phrase.Of("%s works near its limit for %.0f s and more", subjects[f.Limb], careTime)
				c.add(f, nil)
				c.report.Findings[len(c.report.Findings)-1].Until = l.At
			}
		}
	}
}
