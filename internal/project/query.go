package project

import (
	"slices"

	"organbook/internal/theory"
)

// NoteStarting returns the index of the melody note that starts exactly at t.
func (c *Chart) NoteStarting(t Ticks) (index int, ok bool) {
	return slices.BinarySearchFunc(c.Melody, t, func(n Note, t Ticks) int { return compare(n.Start, t) })
}

// NoteAt returns the index of the melody note that sounds at t: it starts at
// or before t and ends after it.
func (c *Chart) NoteAt(t Ticks) (index int, ok bool) {
	i, exact := c.NoteStarting(t)
	if exact {
		return i, true
	}
	if i > 0 && c.Melody[i-1].End() > t {
		return i - 1, true
	}
	return i, false
}

// ChangeStarting returns the index of the change written exactly at t, or
// where it would be inserted.
func (c *Chart) ChangeStarting(t Ticks) (index int, ok bool) {
	return slices.BinarySearchFunc(c.Changes, t, func(x Change, t Ticks) int { return compare(x.Start, t) })
}

// ChordAt returns the chord symbol in force at t: the last one written at or
// before it. ok is false before the first change.
func (c *Chart) ChordAt(t Ticks) (chord theory.Chord, ok bool) {
	i, exact := c.ChangeStarting(t)
	if !exact {
		i--
	}
	if i < 0 {
		return theory.Chord{}, false
	}
	return c.Changes[i].Chord, true
}

// PinStarting returns the index of the pin for the note that starts at t, or
// where it would be inserted.
func (c *Chart) PinStarting(t Ticks) (index int, ok bool) {
	return slices.BinarySearchFunc(c.Pins, t, func(p Pin, t Ticks) int { return compare(p.Start, t) })
}

// KeyAt returns the key in force at t.
func (c *Chart) KeyAt(t Ticks) theory.Key { return c.KeyOfBar(c.BarAt(t)) }

// KeyOfBar returns the key in force in bar i.
func (c *Chart) KeyOfBar(i int) theory.Key {
	for ; i >= 0; i-- {
		if c.Bars[i].Key.IsValid() {
			return c.Bars[i].Key
		}
	}
	return c.Key
}

// TempoAt returns the tempo in force at t, in quarter notes a minute.
func (c *Chart) TempoAt(t Ticks) float64 {
	for i := c.BarAt(t); i >= 0; i-- {
		if c.Bars[i].Tempo > 0 {
			return c.Bars[i].Tempo
		}
	}
	return c.Tempo
}

// MeterAt returns the meter in force at t.
func (c *Chart) MeterAt(t Ticks) Meter { return c.Bars[c.BarAt(t)].Meter }

// PassageAt returns the index of the passage that holds a bar.
func (c *Chart) PassageAt(bar int) int {
	i, exact := slices.BinarySearchFunc(c.Passages, bar, func(p Passage, bar int) int { return p.First - bar })
	if !exact {
		i--
	}
	return max(0, i)
}

// PassageBars returns the range of bars of passage i, end excluded.
func (c *Chart) PassageBars(i int) (first, end int) {
	if i+1 < len(c.Passages) {
		return c.Passages[i].First, c.Passages[i+1].First
	}
	return c.Passages[i].First, len(c.Bars)
}

// PassageTime returns the stretch of time passage i covers, end excluded.
func (c *Chart) PassageTime(i int) (start, end Ticks) {
	first, last := c.PassageBars(i)
	start = c.BarStart(first)
	for j := first; j < last; j++ {
		end += c.Bars[j].Length
	}
	return start, start + end
}

func compare(a, b Ticks) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
