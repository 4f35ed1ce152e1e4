package project

import (
	"errors"
	"fmt"
	"slices"
)

// Pickup returns the length of the incomplete bar in front of bar 1, 0 when
// the chart starts with a whole one.
func (c *Chart) Pickup() Ticks {
	if first := c.Bars[0]; first.Unnumbered && first.Length < first.Meter.Length() {
		return first.Length
	}
	return 0
}

// SetPickup gives the chart a pickup of a length, makes the one it has longer
// or shorter at its front, or takes it away with all that is in it when the
// length is 0.
type SetPickup struct{ Length Ticks }

// Name returns "change pick-up".
func (SetPickup) Name() string { return "change pick-up" }

// Apply fails for a length that is no part of the first bar's meter, without a
// pickup to take away, and beyond MaxBars.
func (e SetPickup) Apply(c *Chart) (*Chart, error) {
	meter, old := c.Bars[0].Meter, c.Pickup()
	switch {
	case e.Length < 0 || e.Length >= meter.Length():
		return nil, fmt.Errorf("a pick-up is shorter than a bar of %v", meter)
	case e.Length == 0 && old == 0:
		return nil, errors.New("the chart has no pick-up to take away")
	case e.Length == 0:
		return RemoveBars{End: 1}.Apply(c)
	case old == 0 && len(c.Bars) == MaxBars:
		return nil, fmt.Errorf("a chart has at most %d bars", MaxBars)
	}
	return c.with(func(d *Chart) {
		if e.Length < old {
			d.removeTime(0, old-e.Length)
		} else {
			d.insertTime(0, e.Length-old)
		}
		d.Bars = slices.Clone(c.Bars)
		if old == 0 {
			d.Bars = slices.Insert(d.Bars, 0, Bar{Meter: meter, Unnumbered: true})
			d.Passages = shiftPassages(c.Passages, 0, 1)
		}
		d.Bars[0].Length = e.Length
	})
}

// Select selects nothing: every position has moved.
func (SetPickup) Select(_, _ *Chart, _ Selection) Selection { return Selection{} }
