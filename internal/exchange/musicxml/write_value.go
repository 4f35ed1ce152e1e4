package musicxml

import "organbook/internal/project"

// noteValue is a written note length.
type noteValue struct {
	name  string
	ticks project.Ticks
	// flags is the number of flags or beams, 0 from the quarter up.
	flags int
}

// noteValues lists the note lengths of print, longest first.
var noteValues = []noteValue{
	{"long", 4 * project.Whole, 0},
	{"breve", 2 * project.Whole, 0},
	{"whole", project.Whole, 0},
	{"half", project.Whole / 2, 0},
	{"quarter", project.Quarter, 0},
	{"eighth", project.Quarter / 2, 1},
	{"16th", project.Quarter / 4, 2},
	{"32nd", project.Quarter / 8, 3},
	{"64th", project.Quarter / 16, 4},
	{"128th", finest, 5},
}

// finest is the shortest note value. Positions on its grid need no tuplet.
const finest = project.Quarter / 32

// written is a note length with at most one dot; the zero value means that no
// such length fits, and is written without a type.
type written struct {
	noteValue
	dotted bool
}

// valueOf returns the note length of d ticks; ok is false when it takes more
// than one note with at most one dot.
func valueOf(d project.Ticks) (w written, ok bool) {
	for _, v := range noteValues {
		switch {
		case d == v.ticks:
			return written{v, false}, true
		case 2*d == 3*v.ticks:
			return written{v, true}, true
		}
	}
	return written{}, false
}

// largestValue returns the longest note length that fits into d ticks.
func largestValue(d project.Ticks) (w written, length project.Ticks, ok bool) {
	for _, v := range noteValues {
		if long := 3 * v.ticks / 2; long <= d && v.ticks%2 == 0 {
			return written{v, true}, long, true
		}
		if v.ticks <= d {
			return written{v, false}, v.ticks, true
		}
	}
	return written{}, 0, false
}
