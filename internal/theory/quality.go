package theory

// Quality is the coarse class of a chord: what an arranger asks first.
type Quality uint8

// The qualities.
const (
	// NoQuality is N.C. and the zero Chord.
	NoQuality Quality = iota
	MajorTriad
	MajorSixthChord
	MajorSeventhChord
	MinorTriad
	MinorSixthChord
	MinorSeventhChord
	MinorMajorSeventh
	DominantSeventh
	// DominantFlatFive has a major third and a lowered fifth without a
	// perfect one, or a raised eleventh.
	DominantFlatFive
	// AugmentedSeventh is a dominant with a raised fifth.
	AugmentedSeventh
	// AlteredDominant has both its fifth and its ninth altered.
	AlteredDominant
	// SuspendedSeventh is a dominant whose third is suspended.
	SuspendedSeventh
	Suspended
	HalfDiminished
	DiminishedTriad
	DiminishedSeventh
	Augmented
	AugmentedMajorSeventh
	// Power chords have no third and nothing in its place.
	Power
)

var qualityNames = [...]string{
	"no chord", "major triad", "major sixth", "major seventh", "minor triad",
	"minor sixth", "minor seventh", "minor-major seventh", "dominant seventh",
	"dominant flat five", "augmented seventh", "altered dominant",
	"suspended seventh", "suspended", "half-diminished", "diminished triad",
	"diminished seventh", "augmented", "augmented major seventh", "power",
}

// String returns the quality in words.
func (q Quality) String() string { return qualityNames[q] }

// IsDominant reports whether chords of the quality want to resolve down a
// fifth.
func (q Quality) IsDominant() bool {
	return q >= DominantSeventh && q <= SuspendedSeventh
}

// IsMinor reports whether the quality has a minor third and a perfect fifth.
func (q Quality) IsMinor() bool { return q >= MinorTriad && q <= MinorMajorSeventh }

// IsMajor reports whether the quality is a major chord at rest.
func (q Quality) IsMajor() bool { return q >= MajorTriad && q <= MajorSeventhChord }

// Quality returns the class of the chord. Added tensions do not change it;
// altered fifths and ninths of a dominant do.
func (c Chord) Quality() Quality {
	t := c.tones
	switch {
	case c.none || !c.IsValid():
		return NoQuality
	case t.has(3, 0):
		return majorQuality(t)
	case t.has(3, -1):
		return minorQuality(t)
	case t.any(2) || t.any(4):
		return suspendedQuality(t)
	case t.has(7, -1):
		return DominantSeventh
	}
	return Power
}

func majorQuality(t degreeSet) Quality {
	raised := t.has(5, 1) && !t.has(5, 0)
	switch {
	case t.has(7, -1):
		return dominantQuality(t, raised)
	case t.has(7, 0) && raised:
		return AugmentedMajorSeventh
	case t.has(7, 0):
		return MajorSeventhChord
	case raised:
		return Augmented
	case t.has(6, 0):
		return MajorSixthChord
	}
	return MajorTriad
}

func dominantQuality(t degreeSet, raised bool) Quality {
	lowered := t.has(5, -1) && !t.has(5, 0) || t.has(11, 1) || t.has(4, 1)
	ninth := t.has(9, -1) || t.has(9, 1)
	switch {
	case ninth && (raised || t.has(13, -1) || lowered && !t.has(5, 0)):
		return AlteredDominant
	case raised:
		return AugmentedSeventh
	case lowered:
		return DominantFlatFive
	}
	return DominantSeventh
}

func minorQuality(t degreeSet) Quality {
	lowered := t.has(5, -1) && !t.has(5, 0)
	switch {
	case lowered && t.has(7, -2), lowered && t.has(7, 0), lowered && t.has(6, 0):
		return DiminishedSeventh
	case lowered && t.has(7, -1):
		return HalfDiminished
	case lowered:
		return DiminishedTriad
	case t.has(7, 0):
		return MinorMajorSeventh
	case t.has(7, -1):
		return MinorSeventhChord
	case t.has(6, 0):
		return MinorSixthChord
	}
	return MinorTriad
}

func suspendedQuality(t degreeSet) Quality {
	if t.has(7, -1) {
		return SuspendedSeventh
	}
	return Suspended
}
