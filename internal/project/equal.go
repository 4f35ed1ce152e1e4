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
	return c.head() == d.head() &&
		slices.EqualFunc(c.Bars, d.Bars, Bar.Equal) &&
		slices.Equal(c.Changes, d.Changes) &&
		slices.Equal(c.Melody, d.Melody) &&
		slices.Equal(c.Passages, d.Passages) &&
		slices.EqualFunc(c.Pins, d.Pins, Pin.Equal)
}

// head returns the fields that are plain values.
func (c *Chart) head() any {
	type head struct {
		title, composer string
		key             any
		tempo, swing    float64
		console         string
	}
	return head{c.Title, c.Composer, c.Key, c.Tempo, c.Swing, c.Console}
}

// Equal reports whether two bars say the same.
func (b Bar) Equal(d Bar) bool {
	return slices.Equal(b.Ending, d.Ending) && b.plain() == d.plain()
}

// plain returns the bar's comparable fields.
func (b Bar) plain() any {
	type marks struct {
		meter                          Meter
		length                         Ticks
		key                            any
		tempo                          float64
		section                        string
		times                          int
		jump                           Jump
		unnumbered, start, end, ending bool
		segno, coda, fine, toCoda      bool
	}
	return marks{
		b.Meter, b.Length, b.Key, b.Tempo, b.Section, b.Times, b.Jump,
		b.Unnumbered, b.RepeatStart, b.RepeatEnd, b.EndingStart,
		b.Segno, b.Coda, b.Fine, b.ToCoda,
	}
}

// Equal reports whether two pins fix the same block for the same note.
func (p Pin) Equal(q Pin) bool {
	return p.Start == q.Start && p.Voicing == q.Voicing && slices.Equal(p.Voices, q.Voices)
}

// String names the pin by its voices, from the lead down: "D5 B4 Ab4 F4".
func (p Pin) String() string {
	names := make([]string, len(p.Voices))
	for i, v := range p.Voices {
		names[i] = v.String()
	}
	return strings.Join(names, " ")
}
