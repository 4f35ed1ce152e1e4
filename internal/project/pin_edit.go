package project

import (
	"slices"

	"organbook/internal/theory"
)

// SetPin fixes a block for the melody note that starts at Start, in place of
// the pin it may have.
type SetPin struct {
	Start   Ticks
	Voicing theory.Voicing
	// Voices run from the lead down.
	Voices []theory.Pitch
}

// Name returns "pin block".
func (SetPin) Name() string { return "pin block" }

// Apply fails when no note starts there or the voices are not a block under
// it.
func (e SetPin) Apply(c *Chart) (*Chart, error) {
	pin := Pin{e.Start, e.Voicing, slices.Clone(e.Voices)}
	i, found := c.PinStarting(e.Start)
	return c.with(func(d *Chart) {
		d.Pins = slices.Clone(c.Pins)
		if found {
			d.Pins[i] = pin
		} else {
			d.Pins = slices.Insert(d.Pins, i, pin)
		}
	})
}

// ClearPin lets the arranger choose again for the note that starts at Start.
type ClearPin struct{ Start Ticks }

// Name returns "clear pin".
func (ClearPin) Name() string { return "clear pin" }

// Apply fails when there is no pin.
func (e ClearPin) Apply(c *Chart) (*Chart, error) {
	if _, ok := c.PinStarting(e.Start); !ok {
		return nil, Problem{c.PositionText(e.Start), "no pin is set here"}
	}
	return ClearPins{e.Start, e.Start + 1}.Apply(c)
}

// ClearPins lets the arranger choose again for every note that starts from
// From to To, end excluded.
type ClearPins struct{ From, To Ticks }

// Name returns "clear pins".
func (ClearPins) Name() string { return "clear pins" }

// Apply never fails; without a pin in the range it returns c itself.
func (e ClearPins) Apply(c *Chart) (*Chart, error) {
	i, _ := c.PinStarting(e.From)
	j, _ := c.PinStarting(e.To)
	if i >= j {
		return c, nil
	}
	return c.with(func(d *Chart) { d.Pins = slices.Delete(slices.Clone(c.Pins), i, j) })
}
