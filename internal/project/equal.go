package project

import (
	"slices"
	"strings"
)

// Equal reports whether two charts say the same. Empty and nil slices are the
// same.
func (c *Chart) Equal(d *Chart) bool {
	if c == d {
		return true
	}
	return c.Title == d.Title && c.Composer == d.Composer && c.Key == d.Key &&
		c.Tempo == d.Tempo && c.Swing == d.Swing && c.Console == d.Console &&
		slices.EqualFunc(c.Bars, d.Bars, Bar.Equal) &&
		slices.Equal(c.Changes, d.Changes) &&
		slices.Equal(c.Melody, d.Melody) &&
		slices.EqualFunc(c.Passages, d.Passages, Passage.Equal) &&
		slices.EqualFunc(c.Pins, d.Pins, Pin.Equal) &&
		slices.EqualFunc(c.Shelved, d.Shelved, ShelvedPin.Equal) &&
		slices.Equal(c.Fingerings, d.Fingerings) && samePlayer(c.Player, d.Player) && sameTone(c.Tone, d.Tone)
}

// Equal reports whether two bars say the same.
func (b Bar) Equal(d Bar) bool {
	return b.Meter == d.Meter && b.Length == d.Length && b.Unnumbered == d.Unnumbered &&
		b.Key == d.Key && b.Tempo == d.Tempo && b.Section == d.Section &&
		b.RepeatStart == d.RepeatStart && b.RepeatEnd == d.RepeatEnd && b.Times == d.Times &&
		b.EndingStart == d.EndingStart && slices.Equal(b.Ending, d.Ending) &&
		b.Segno == d.Segno && b.Coda == d.Coda && b.Fine == d.Fine && b.ToCoda == d.ToCoda &&
		b.Jump == d.Jump
}

// Equal reports whether two pins fix the same block for the same note.
func (p Pin) Equal(q Pin) bool {
	return p.Start == q.Start && p.Strength == q.Strength && p.Voicing == q.Voicing && p.Technique == q.Technique && slices.Equal(p.Voices, q.Voices)
}

// String names the pin by its voices, from the lead down ("D5 B4 Ab4 F4"), or
// by what else it fixes.
func (p Pin) String() string {
	switch p.Strength {
	case PinVoicing:
		return p.Voicing.String()
	case PinTechnique:
		return p.Technique.String()
	}
	names := make([]string, len(p.Voices))
	for i, v := range p.Voices {
		names[i] = v.String()
	}
	return strings.Join(names, " ")
}
