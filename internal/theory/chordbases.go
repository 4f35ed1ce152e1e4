package theory

// The stock of chord qualities that lead sheets write as one word. The printer
// names a chord by the base that needs the fewest changes; among equals the
// upper row wins. The degrees are those of common practice: a thirteenth over
// a major third leaves out the eleventh, which would grate against the third.

// chordBase is one row: the text after the root, and the degrees it stands for.
type chordBase struct {
	text    string
	degrees degreeSet
	// exact rows name this very set only and are not a start for changes.
	exact bool
}

var chordBases = []chordBase{
	{"", degrees("1 3 5"), false},
	{"m", degrees("1 b3 5"), false},
	{"7", degrees("1 3 5 b7"), false},
	{"maj7", degrees("1 3 5 7"), false},
	{"m7", degrees("1 b3 5 b7"), false},
	{"m(maj7)", degrees("1 b3 5 7"), false},
	{"6", degrees("1 3 5 6"), false},
	{"m6", degrees("1 b3 5 6"), false},
	{"6/9", degrees("1 3 5 6 9"), false},
	{"m6/9", degrees("1 b3 5 6 9"), false},
	{"9", degrees("1 3 5 b7 9"), false},
	{"maj9", degrees("1 3 5 7 9"), false},
	{"m9", degrees("1 b3 5 b7 9"), false},
	{"m(maj9)", degrees("1 b3 5 7 9"), false},
	{"11", degrees("1 3 5 b7 9 11"), false},
	{"maj11", degrees("1 3 5 7 9 11"), false},
	{"m11", degrees("1 b3 5 b7 9 11"), false},
	{"13", degrees("1 3 5 b7 9 13"), false},
	{"maj13", degrees("1 3 5 7 9 13"), false},
	{"m13", degrees("1 b3 5 b7 9 11 13"), false},
	{"m7b5", degrees("1 b3 b5 b7"), false},
	{"dim", degrees("1 b3 b5"), false},
	{"dim7", degrees("1 b3 b5 bb7"), false},
	{"aug", degrees("1 3 #5"), false},
	{"7#5", degrees("1 3 #5 b7"), true},
	{"sus4", degrees("1 4 5"), false},
	{"sus2", degrees("1 2 5"), false},
	{"sus2sus4", degrees("1 2 4 5"), false},
	{"7sus4", degrees("1 4 5 b7"), false},
	{"9sus4", degrees("1 4 5 b7 9"), false},
	{"13sus4", degrees("1 4 5 b7 9 13"), false},
	{"6sus4", degrees("1 4 5 6"), false},
	{"6/9sus4", degrees("1 4 5 6 9"), false},
	{"maj7sus4", degrees("1 4 5 7"), false},
	{"7sus2", degrees("1 2 5 b7"), false},
	{"5", degrees("1 5"), false},
	{"7alt", altered, true},
	{"no3no5", degrees("1"), true},
}

// altered is the dominant with its fifth and its ninth both lowered and
// raised: all that "alt" leaves of the chord untouched is root, third and
// seventh.
var altered = degrees("1 3 b5 #5 b7 b9 #9")
