package project

import "fmt"

// Ticks counts written time. Positions run from the start of the chart's
// first bar without unrolling repeats.
type Ticks int64

// Quarter is one quarter note. 10080 = 2^5·3^2·5·7 divides evenly into 128th
// notes, triplets, quintuplets, septuplets and nonuplets.
const Quarter Ticks = 10080

// Whole is one whole note.
const Whole = 4 * Quarter

// Meter is a time signature: Beats notes of 1/Unit.
type Meter struct {
	Beats, Unit int
	// Groups is how the beats stand together where that is not the usual way, as
	// print has it: "2+3", which add up to Beats. See StartsGroup.
	Groups string
}

// CommonTime is four quarters.
var CommonTime = Meter{Beats: 4, Unit: 4}

// IsValid reports whether the meter can be printed: 1 to 64 beats of a power
// of two from 1 to 128, in groups that add up to them, if any.
func (m Meter) IsValid() bool {
	return m.Beats >= 1 && m.Beats <= 64 && m.Unit >= 1 && m.Unit <= 128 && m.Unit&(m.Unit-1) == 0 && m.groupsFit()
}

// Beat returns the length of the note under the meter's line.
func (m Meter) Beat() Ticks { return Whole / Ticks(m.Unit) }

// Pulse returns the length of a felt beat: three units in compound meters
// (6/8, 9/8, 12/8, unless they are grouped otherwise), one unit otherwise.
func (m Meter) Pulse() Ticks {
	if m.Unit >= 8 && m.Beats > 3 && m.Beats%3 == 0 && m.inThrees() {
		return 3 * m.Beat()
	}
	return m.Beat()
}

// Length returns the nominal length of a bar.
func (m Meter) Length() Ticks { return Ticks(m.Beats) * m.Beat() }

// String writes the meter as "4/4", or as "2+3/4" with the groups it has.
func (m Meter) String() string {
	if m.Groups != "" {
		return fmt.Sprintf("%s/%d", m.Groups, m.Unit)
	}
	return fmt.Sprintf("%d/%d", m.Beats, m.Unit)
}
