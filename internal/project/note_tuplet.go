package project

import (
	"errors"
	"fmt"
)

// Tuplet is N notes in the time of M of the same value.
type Tuplet struct{ N, M int }

// TupletIn returns how many plain notes a tuplet of n takes the time of: in
// simple meters the next lower power of two (3:2, 5:4, 7:4, 9:8), in compound
// ones the next lower of 3, 6 and 12 (4:3, 5:3, 7:6), and the duplet of 2:3.
// The triplet is 3:2 everywhere; a duplet in a simple meter is none.
func TupletIn(n int, m Meter) Tuplet {
	compound := m.Pulse() != m.Beat()
	switch {
	case n < 2 || n == 2 && !compound:
		return Tuplet{}
	case n == 2:
		return Tuplet{2, 3}
	case n == 3 || !compound:
		return Tuplet{n, doubled(1, n)}
	}
	return Tuplet{n, doubled(3, n)}
}

// doubled returns the greatest of unit, 2·unit, 4·unit … below n.
func doubled(unit, n int) int {
	for 2*unit < n {
		unit *= 2
	}
	return unit
}

// IsZero reports whether it is no tuplet.
func (t Tuplet) IsZero() bool { return t.N == 0 }

// Of returns the length of a note of the tuplet whose plain length is given.
func (t Tuplet) Of(plain Ticks) Ticks {
	if t.IsZero() {
		return plain
	}
	return plain * Ticks(t.M) / Ticks(t.N)
}

// tupletNames are the names of print.
var tupletNames = map[int]string{2: "duplet", 3: "triplet", 4: "quadruplet", 5: "quintuplet", 6: "sextuplet", 7: "septuplet", 9: "nonuplet"}

// String names the tuplet, "" for none.
func (t Tuplet) String() string {
	if name := tupletNames[t.N]; name != "" || t.IsZero() {
		return name
	}
	return fmt.Sprintf("%d:%d", t.N, t.M)
}

// EvenNotes spreads neighbouring notes evenly over the time from the start of
// the first to the end of the last: five notes that fill two beats become a
// quintuplet. Rests between them go; pins and fingers follow their notes.
type EvenNotes struct{ Starts []Ticks }

// Name returns "even 5 notes".
func (e EvenNotes) Name() string { return "even " + counted(len(e.Starts), "note") }

// Apply fails with fewer than two notes, when another lies between them, or
// when their time does not divide into so many parts.
func (e EvenNotes) Apply(c *Chart) (*Chart, error) {
	taken, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	n := len(taken)
	first := taken[0].Start
	if n < 2 {
		return nil, Problem{c.PositionText(first), "spreading evenly needs two notes or more"}
	}
	i, _ := c.NoteStarting(first)
	j, _ := c.NoteStarting(taken[n-1].Start)
	if j-i+1 != n {
		return nil, Problem{c.PositionText(first), "only neighbouring notes can be spread evenly"}
	}
	part, err := c.part(first, taken[n-1].End()-first, n)
	if err != nil {
		return nil, err
	}
	for k := range taken {
		taken[k].Start, taken[k].Duration = first+Ticks(k)*part, part
	}
	return c.withLine(place(rest, taken))
}

// Select selects the notes where they are now.
func (e EvenNotes) Select(_, after *Chart, _ Selection) Selection {
	starts := sortedStarts(e.Starts)
	i, _ := after.NoteStarting(starts[0])
	return NoteSelection(startsOf(after.Melody[i : i+len(starts)])...)
}

// part returns the length of one of n equal parts, which must be whole ticks
// and no shorter than the shortest note.
func (c *Chart) part(at, length Ticks, n int) (Ticks, error) {
	if n < 1 || length%Ticks(n) != 0 || length/Ticks(n) < shortestPart {
		return 0, Problem{c.PositionText(at), fmt.Sprintf("this length cannot be divided into %d equal notes", n)}
	}
	return length / Ticks(n), nil
}

// shortestPart is the least that dividing leaves: about a 128th.
const shortestPart = Quarter / 36

// DivideNotes divides each of some notes into equal notes of the same pitch: a
// quarter into three is a triplet of eighths. The first part keeps the pin.
type DivideNotes struct {
	Starts []Ticks
	// Parts is two or more.
	Parts int
}

// Name returns "divide 2 notes".
func (e DivideNotes) Name() string { return "divide " + counted(len(e.Starts), "note") }

// Apply fails when no note starts at one of the positions or one does not
// divide.
func (e DivideNotes) Apply(c *Chart) (*Chart, error) {
	if e.Parts < 2 {
		return nil, errors.New("a note is divided into two parts or more")
	}
	taken, rest, err := c.pull(e.Starts)
	if err != nil {
		return nil, err
	}
	var parts []entry
	for _, n := range taken {
		length, err := c.part(n.Start, n.Duration, e.Parts)
		if err != nil {
			return nil, err
		}
		n.Duration = length
		parts = append(parts, n)
		for k := 1; k < e.Parts; k++ {
			parts = append(parts, entry{Note: Note{n.Start + Ticks(k)*length, length, n.Pitch}})
		}
	}
	return c.withLine(place(rest, parts))
}

// Select selects all parts.
func (e DivideNotes) Select(_, after *Chart, _ Selection) Selection {
	var starts []Ticks
	for _, t := range e.Starts {
		i, _ := after.NoteStarting(t)
		starts = append(starts, startsOf(after.Melody[i:i+e.Parts])...)
	}
	return NoteSelection(starts...)
}
