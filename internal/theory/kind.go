package theory

import "fmt"

// Kind is a chord quality as the MusicXML 4.0 standard lists them (simple type
// kind-value); chords enter and leave such files through it.
type Kind uint8

// The kinds, named as the standard names them.
const (
	KindNone Kind = iota
	KindMajor
	KindMinor
	KindAugmented
	KindDiminished
	KindDominant
	KindMajorSeventh
	KindMinorSeventh
	KindDiminishedSeventh
	KindAugmentedSeventh
	KindHalfDiminished
	KindMajorMinor
	KindMajorSixth
	KindMinorSixth
	KindDominantNinth
	KindMajorNinth
	KindMinorNinth
	KindDominant11th
	KindMajor11th
	KindMinor11th
	KindDominant13th
	KindMajor13th
	KindMinor13th
	KindSuspendedSecond
	KindSuspendedFourth
	KindNeapolitan
	KindItalian
	KindFrench
	KindGerman
	KindPedal
	KindPower
	KindTristan
	KindOther
	kindCount
)

// kindFact is a row of the table of kinds.
type kindFact struct {
	name    string
	degrees degreeSet
	// alias kinds mean a chord that another kind names already.
	alias bool
}

// kindFacts gives each kind its degrees. Triads to ninths and suspensions
// follow the standard's own words; thirteenths with a major third leave out
// the eleventh as players do. The augmented sixths stand on their bass, the
// lowered sixth of the key; the Neapolitan is the major triad on its root, and
// Tristan is F B D# G# over F.
var kindFacts = [kindCount]kindFact{
	KindNone:              {"none", 0, true},
	KindMajor:             {"major", degrees("1 3 5"), false},
	KindMinor:             {"minor", degrees("1 b3 5"), false},
	KindAugmented:         {"augmented", degrees("1 3 #5"), false},
	KindDiminished:        {"diminished", degrees("1 b3 b5"), false},
	KindDominant:          {"dominant", degrees("1 3 5 b7"), false},
	KindMajorSeventh:      {"major-seventh", degrees("1 3 5 7"), false},
	KindMinorSeventh:      {"minor-seventh", degrees("1 b3 5 b7"), false},
	KindDiminishedSeventh: {"diminished-seventh", degrees("1 b3 b5 bb7"), false},
	KindAugmentedSeventh:  {"augmented-seventh", degrees("1 3 #5 b7"), false},
	KindHalfDiminished:    {"half-diminished", degrees("1 b3 b5 b7"), false},
	KindMajorMinor:        {"major-minor", degrees("1 b3 5 7"), false},
	KindMajorSixth:        {"major-sixth", degrees("1 3 5 6"), false},
	KindMinorSixth:        {"minor-sixth", degrees("1 b3 5 6"), false},
	KindDominantNinth:     {"dominant-ninth", degrees("1 3 5 b7 9"), false},
	KindMajorNinth:        {"major-ninth", degrees("1 3 5 7 9"), false},
	KindMinorNinth:        {"minor-ninth", degrees("1 b3 5 b7 9"), false},
	KindDominant11th:      {"dominant-11th", degrees("1 3 5 b7 9 11"), false},
	KindMajor11th:         {"major-11th", degrees("1 3 5 7 9 11"), false},
	KindMinor11th:         {"minor-11th", degrees("1 b3 5 b7 9 11"), false},
	KindDominant13th:      {"dominant-13th", degrees("1 3 5 b7 9 13"), false},
	KindMajor13th:         {"major-13th", degrees("1 3 5 7 9 13"), false},
	KindMinor13th:         {"minor-13th", degrees("1 b3 5 b7 9 11 13"), false},
	KindSuspendedSecond:   {"suspended-second", degrees("1 2 5"), false},
	KindSuspendedFourth:   {"suspended-fourth", degrees("1 4 5"), false},
	KindNeapolitan:        {"Neapolitan", degrees("1 3 5"), true},
	KindItalian:           {"Italian", degrees("1 3 #6"), true},
	KindFrench:            {"French", degrees("1 3 #4 #6"), true},
	KindGerman:            {"German", degrees("1 3 5 #6"), true},
	KindPedal:             {"pedal", degrees("1"), false},
	KindPower:             {"power", degrees("1 5"), false},
	KindTristan:           {"Tristan", degrees("1 #4 #6 #9"), true},
	KindOther:             {"other", degrees("1"), true},
}

// String returns the standard's word for the kind.
func (k Kind) String() string { return kindFacts[k].name }

// ParseKind reads a word written by String.
func ParseKind(s string) (Kind, error) {
	for i, f := range kindFacts {
		if f.name == s {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("chord kind %q: not one of the MusicXML standard", s)
}

// DegreeOp says what a Degree does to a kind.
type DegreeOp uint8

// The operations of the standard's degree-type.
const (
	AddDegree DegreeOp = iota
	AlterDegree
	OmitDegree
)

var degreeOpNames = [...]string{"add", "alter", "subtract"}

// String returns the standard's word for the operation.
func (o DegreeOp) String() string { return degreeOpNames[o] }

// Degree is one change to a kind. As in the standard, Alter counts semitones
// from the degree of a dominant chord for AddDegree (7 is a minor seventh) and
// from the kind's own degree for AlterDegree; OmitDegree ignores it.
type Degree struct {
	Number, Alter int
	Op            DegreeOp
}

// NewChord builds a chord from its parts, as files hold them. Degrees work in
// any order; altering one the kind does not have adds it, leaving one out that
// is not there does nothing. A bass that is not valid, or is the root, means
// no slash. It fails for a root that is not valid (unless kind is KindNone)
// and for a degree no chord has.
func NewChord(root Name, kind Kind, changes []Degree, bass Name) (Chord, error) {
	if kind == KindNone {
		return NoChord(), nil
	}
	if !root.valid || kind >= kindCount {
		return Chord{}, fmt.Errorf("chord: no root or no such kind")
	}
	base := kindFacts[kind].degrees
	var omits, alters, adds degreeSet
	for _, d := range changes {
		bit := d.bit(base)
		switch {
		case bit == 0:
			return Chord{}, fmt.Errorf("chord on %s: there is no degree %d altered by %d", root, d.Number, d.Alter)
		case d.Op == OmitDegree:
			omits |= bit
		case d.Op == AlterDegree:
			alters |= bit
		default:
			adds |= bit
		}
	}
	c := Chord{root: root, tones: base.changed(omits, alters, adds)}
	if c.tones == 0 {
		return Chord{}, fmt.Errorf("chord on %s: every degree is left out", root)
	}
	return c.WithBass(bass), nil
}

// bit returns the degree that d brings in, or all forms it takes out.
func (d Degree) bit(base degreeSet) degreeSet {
	number := foldDegree(d.Number)
	own := base & degreeMask(number)
	switch {
	case d.Op > OmitDegree:
		return 0
	case d.Op == OmitDegree:
		return degreeMask(number)
	case d.Op == AlterDegree && own != 0:
		return degreeBit(number, own.list()[0].alter+d.Alter)
	}
	return degreeBit(number, dominantAlter(number)+d.Alter)
}

// foldDegree brings the octave and what lies above a thirteenth down to the
// degrees a chord can hold; past three octaves there are none.
func foldDegree(number int) int {
	if number > 21 {
		return 0
	}
	for number == 8 || number == 10 || number == 12 || number > 13 {
		number -= 7
	}
	return number
}

// dominantAlter is the form a degree has in a dominant chord.
func dominantAlter(number int) int {
	if number == 7 {
		return -1
	}
	return 0
}

// Kind takes the chord apart for files: the kind that needs the fewest
// changes, and the changes. NewChord puts the same chord together again.
func (c Chord) Kind() (Kind, []Degree) {
	if c.none || !c.IsValid() {
		return KindNone, nil
	}
	best, bestWeight := KindMajor, -1
	for k, fact := range kindFacts {
		if fact.alias {
			continue
		}
		if w := changesWeight(fact.degrees, c.tones); bestWeight < 0 || w < bestWeight {
			best, bestWeight = Kind(k), w
		}
	}
	return best, kindChanges(kindFacts[best].degrees, c.tones)
}

func kindChanges(base, tones degreeSet) (out []Degree) {
	for _, number := range changeOrder {
		c := changeOf(base, tones, number, false)
		own := base & degreeMask(number)
		if c.omit {
			out = append(out, Degree{number, 0, OmitDegree})
		}
		for s := c.alter; s != 0; {
			out = append(out, Degree{number, s.next().alter - own.list()[0].alter, AlterDegree})
		}
		for s := c.add; s != 0; {
			out = append(out, Degree{number, s.next().alter - dominantAlter(number), AddDegree})
		}
	}
	return out
}
