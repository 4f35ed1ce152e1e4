package theory

// homeDegrees are the resting chords of the families, in the order of Sixths.
var homeDegrees = [4]degreeSet{
	degrees("1 3 5 6"), degrees("1 b3 5 6"), degrees("1 3 5 b7"), degrees("1 3 b5 b7"),
}

var (
	awayDegrees     = degrees("1 b3 b5 bb7")
	dominantDegrees = degrees("1 3 5 b7 b9")
)

// HomeChord returns the family's resting chord as a symbol: Gm6 for G minor.
func (f Family) HomeChord() Chord {
	if !f.IsValid() {
		return Chord{}
	}
	return Chord{root: f.tonic, tones: homeDegrees[f.sixth]}
}

// AwayChord returns the family's diminished seventh as a symbol on the leading
// note: F#dim7 for G minor. Any of its four notes could be the root; the
// leading note spells it as it resolves.
func (f Family) AwayChord() Chord {
	if !f.IsValid() {
		return Chord{}
	}
	leading := f.tonic.Transpose(MajorSeventh)
	return Chord{root: leading, tones: awayDegrees}
}

// Dominant returns the dominant seventh that the away chord stands for, with
// the flat ninth that makes it: D7b9 for G minor.
func (f Family) Dominant() Chord {
	if !f.IsValid() {
		return Chord{}
	}
	return Chord{root: f.tonic.Transpose(PerfectFifth), tones: dominantDegrees}
}
