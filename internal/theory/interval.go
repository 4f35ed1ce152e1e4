package theory

import "fmt"

// Interval is a spelled distance: how many letters it spans and how many
// semitones it measures. Both are negative for a descending interval. The
// zero value is the unison.
type Interval struct {
	steps, semitones int16
}

// NewInterval returns the interval that spans steps letters (a third spans 2)
// and measures semitones.
func NewInterval(steps, semitones int) Interval {
	return Interval{int16(steps), int16(semitones)}
}

// The intervals that the theory names directly.
var (
	Unison          = NewInterval(0, 0)
	MinorSecond     = NewInterval(1, 1)
	MajorSecond     = NewInterval(1, 2)
	MinorThird      = NewInterval(2, 3)
	MajorThird      = NewInterval(2, 4)
	PerfectFourth   = NewInterval(3, 5)
	AugmentedFourth = NewInterval(3, 6)
	DiminishedFifth = NewInterval(4, 6)
	PerfectFifth    = NewInterval(4, 7)
	AugmentedFifth  = NewInterval(4, 8)
	MinorSixth      = NewInterval(5, 8)
	MajorSixth      = NewInterval(5, 9)
	MinorSeventh    = NewInterval(6, 10)
	MajorSeventh    = NewInterval(6, 11)
	Octave          = NewInterval(7, 12)
)

// Steps returns the letters spanned; 0 is a unison, 7 an octave.
func (i Interval) Steps() int { return int(i.steps) }

// Semitones returns the size in equal-tempered semitones.
func (i Interval) Semitones() int { return int(i.semitones) }

// Fifths returns the interval's length on the line of fifths, octaves ignored.
func (i Interval) Fifths() int { return 7*int(i.semitones) - 12*int(i.steps) }

// Invert returns the interval that undoes this one.
func (i Interval) Invert() Interval { return Interval{-i.steps, -i.semitones} }

// Plus returns the sum of two intervals.
func (i Interval) Plus(j Interval) Interval {
	return Interval{i.steps + j.steps, i.semitones + j.semitones}
}

// String writes the interval as letters and semitones, for messages and tests.
func (i Interval) String() string {
	return fmt.Sprintf("%+d steps %+d semitones", i.steps, i.semitones)
}

// intervalFromFifths returns the ascending interval below an octave that is f
// fifths long; far enharmonic cases may measure -1 or 12 semitones (C to B#).
func intervalFromFifths(f int) Interval {
	steps := mod(4*f, 7)
	// Fifths() = 7*semitones - 12*steps, solved for semitones.
	return Interval{int16(steps), int16((f + 12*steps) / 7)}
}
