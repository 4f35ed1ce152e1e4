package theory

import "fmt"

// Sixth says which chord rests at home in a family. The chord gives the
// family its colour; the diminished seventh it alternates with never changes.
type Sixth uint8

// The four families.
const (
	MajorSixthFamily Sixth = iota
	MinorSixthFamily
	DominantFamily
	DominantFlatFiveFamily
)

// Sixths lists the four families in the order they are taught.
var Sixths = [4]Sixth{MajorSixthFamily, MinorSixthFamily, DominantFamily, DominantFlatFiveFamily}

var sixthNames = [4]string{"major", "minor", "dominant", "dominant flat five"}

// String returns the family's name as files and screens write it.
func (s Sixth) String() string { return sixthNames[s] }

// ParseSixth reads a family name written by String.
func ParseSixth(s string) (Sixth, error) {
	for i, name := range sixthNames {
		if s == name {
			return Sixth(i), nil
		}
	}
	return 0, fmt.Errorf("family %q: expected major, minor, dominant or dominant flat five", s)
}

// familyIntervals holds the eight steps of each family above its tonic. Even
// places are home, odd places away; away is the same in all four.
var familyIntervals = [4][8]Interval{
	MajorSixthFamily:       {Unison, MajorSecond, MajorThird, PerfectFourth, PerfectFifth, MinorSixth, MajorSixth, MajorSeventh},
	MinorSixthFamily:       {Unison, MajorSecond, MinorThird, PerfectFourth, PerfectFifth, MinorSixth, MajorSixth, MajorSeventh},
	DominantFamily:         {Unison, MajorSecond, MajorThird, PerfectFourth, PerfectFifth, MinorSixth, MinorSeventh, MajorSeventh},
	DominantFlatFiveFamily: {Unison, MajorSecond, MajorThird, PerfectFourth, DiminishedFifth, MinorSixth, MinorSeventh, MajorSeventh},
}

// Family is an eight-note scale whose alternate notes form a resting chord
// (home) and a diminished seventh (away). On C, major: C D E F G A♭ A B. The
// zero value is not valid.
type Family struct {
	tonic Name
	sixth Sixth
}

// NewFamily returns the family of the given colour on tonic.
func NewFamily(tonic Name, sixth Sixth) Family { return Family{tonic, sixth} }

// IsValid reports whether the family has a tonic.
func (f Family) IsValid() bool { return f.tonic.valid }

// Tonic returns the root of the home chord.
func (f Family) Tonic() Name { return f.tonic }

// Sixth returns the family's colour.
func (f Family) Sixth() Sixth { return f.sixth }

// Transpose returns the family an interval away.
func (f Family) Transpose(i Interval) Family { return Family{f.tonic.Transpose(i), f.sixth} }

// Scale returns the eight steps upward from the tonic. Even indexes are home,
// odd ones away.
func (f Family) Scale() [8]Name {
	var s [8]Name
	for i, iv := range familyIntervals[f.sixth] {
		s[i] = f.tonic.Transpose(iv)
	}
	return s
}

// Home returns the resting chord's four notes, tonic first.
func (f Family) Home() [4]Name { return f.alternate(0) }

// Away returns the diminished seventh's four notes, second degree first.
func (f Family) Away() [4]Name { return f.alternate(1) }

func (f Family) alternate(first int) (out [4]Name) {
	scale := f.Scale()
	for i := range out {
		out[i] = scale[first+2*i]
	}
	return out
}

// StepOf returns the place of a pitch class on the scale, 0 to 7, and whether
// it is on the scale at all. Even steps are home, odd steps away.
func (f Family) StepOf(pc int) (step int, ok bool) {
	d := mod(pc-f.tonic.PC(), 12)
	for i, iv := range familyIntervals[f.sixth] {
		if iv.Semitones() == d {
			return i, true
		}
	}
	return 0, false
}

// String names the family, as in "G minor family".
func (f Family) String() string {
	if !f.IsValid() {
		return ""
	}
	return fmt.Sprintf("%s %s family", f.tonic, f.sixth)
}
