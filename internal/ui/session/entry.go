package session

import "organbook/internal/project"

// Entry is what the next note placed will be: its length as a fraction of a
// whole note, dotted or as one of a tuplet.
type Entry struct {
	// Value is the number under the fraction: 1, 2, 4, 8, 16 or 32.
	Value int
	// Dotted adds half.
	Dotted bool
	// Tuplet, unless zero, says how many take the time of how many.
	Tuplet project.Tuplet
}

// firstEntry is what is entered first in a chart.
var firstEntry = Entry{Value: 4}

// Values lists the note values that can be entered, longest first.
var Values = []int{1, 2, 4, 8, 16, 32}

// Length returns the length in ticks.
func (e Entry) Length() project.Ticks {
	t := project.Whole / project.Ticks(e.Value)
	if e.Dotted {
		t += t / 2
	}
	return e.Tuplet.Of(t)
}

var valueNames = map[int]string{1: "whole", 2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second"}

// String names the length: "dotted quarter", "eighth triplet", "eighth
// quintuplet".
func (e Entry) String() string {
	name := valueNames[e.Value]
	if e.Dotted {
		name = "dotted " + name
	}
	if !e.Tuplet.IsZero() {
		name += " " + e.Tuplet.String()
	}
	return name
}

// Snap returns the grid that mouse positions snap to: the undotted length, at
// most a quarter so that a whole note can start on any beat.
func (e Entry) Snap() project.Ticks {
	t := Entry{Value: max(e.Value, 4), Tuplet: e.Tuplet}
	return t.Length()
}
