package project

import (
	"slices"

	"organbook/internal/theory"
)

// SetPin fixes a block for the melody note that starts at Start, in place of
// the pin it may have.
type SetPin struct {
	Start Ticks
	// Strength says how much is fixed: the block of Voices in Voicing, only the
	// voicing, or only the technique. What a strength does not need is ignored.
	Strength  PinStrength
	Voicing   theory.Voicing
	Technique theory.Technique
	// Voices run from the lead down.
	Voices []theory.Pitch
}

// Name returns "pin block", "pin voicing" or "pin technique".
func (e SetPin) Name() string { return "pin " + pinWords[min(int(e.Strength), len(pinWords)-1)] }

// Apply fails when no note starts there or the voices are not a block under
// it.
func (e SetPin) Apply(c *Chart) (*Chart, error) {
	pin := e.pin()
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

// pin keeps what the strength needs.
func (e SetPin) pin() Pin {
	p := Pin{Start: e.Start, Strength: e.Strength}
	switch e.Strength {
	case PinVoicing:
		p.Voicing = e.Voicing
	case PinTechnique:
		p.Technique = e.Technique
	default:
		p.Voicing, p.Voices = e.Voicing, slices.Clone(e.Voices)
	}
	return p
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
