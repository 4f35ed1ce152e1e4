package project

import (
	"slices"

	"organbook/internal/theory"
)

// SetTitle replaces the title; line breaks become blanks.
type SetTitle struct{ Title string }

// Name returns "set title".
func (SetTitle) Name() string { return "set title" }

// Apply never fails; a longer text is cut at MaxTitle characters.
func (e SetTitle) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) { d.Title = OneLine(e.Title, MaxTitle) })
}

// SetComposer replaces the composer; line breaks become blanks.
type SetComposer struct{ Composer string }

// Name returns "set composer".
func (SetComposer) Name() string { return "set composer" }

// Apply never fails; a longer text is cut at MaxTitle characters.
func (e SetComposer) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) { d.Composer = OneLine(e.Composer, MaxTitle) })
}

// SetKey changes the key at the start without moving a note; TransposeChart
// moves them.
type SetKey struct{ Key theory.Key }

// Name returns "set key".
func (SetKey) Name() string { return "set key" }

// Apply fails for a key without a signature.
func (e SetKey) Apply(c *Chart) (*Chart, error) {
	return c.withFront(func(d *Chart, first *Bar) { d.Key, first.Key = e.Key, theory.Key{} })
}

// withFront returns the chart with settings at its start altered. The first
// bar comes along, for what is written there would hide the chart's own.
func (c *Chart) withFront(change func(d *Chart, first *Bar)) (*Chart, error) {
	return c.with(func(d *Chart) {
		first := c.Bars[0]
		change(d, &first)
		if !first.Equal(c.Bars[0]) {
			d.Bars = slices.Clone(c.Bars)
			d.Bars[0] = first
		}
	})
}

// SetTempo changes the tempo at the start, in quarter notes a minute.
type SetTempo struct{ Tempo float64 }

// Name returns "set tempo".
func (SetTempo) Name() string { return "set tempo" }

// Apply fails outside MinTempo to MaxTempo.
func (e SetTempo) Apply(c *Chart) (*Chart, error) {
	return c.withFront(func(d *Chart, first *Bar) { d.Tempo, first.Tempo = e.Tempo, 0 })
}

// SetSwing changes where the off-beat eighth falls, as a part of the beat.
type SetSwing struct{ Swing float64 }

// Name returns "set swing".
func (SetSwing) Name() string { return "set swing" }

// Apply fails outside MinSwing to MaxSwing.
func (e SetSwing) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) { d.Swing = e.Swing })
}

// SetConsole changes the instrument by the ID of a console.
type SetConsole struct{ Console string }

// Name returns "set console".
func (SetConsole) Name() string { return "set console" }

// Apply fails for an ID that Consoles does not list.
func (e SetConsole) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) { d.Console = e.Console })
}
