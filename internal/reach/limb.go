package reach

import (
	"organbook/internal/phrase"
	"organbook/internal/theory"
)

// Ticks counts written time; the unit is the caller's.
type Ticks int64

// Millimetres is a distance on the console.
type Millimetres float64

// Division is one of the three keyboards.
type Division uint8

// The divisions.
const (
	Upper Division = iota
	Lower
	Pedal
)

// Limb is what plays a note.
type Limb uint8

// The limbs.
const (
	RightHand Limb = iota
	LeftHand
	LeftFoot
	RightFoot
)

// limbs is how many limbs a player has.
const limbs = 4

var (
	divisionWords = [...]string{"upper", "lower", "pedal"}
	limbWords     = [...]string{"right hand", "left hand", "left foot", "right foot"}
)

// String returns "upper", "lower" or "pedal".
func (d Division) String() string { return divisionWords[d] }

// String returns "right hand", "left hand", "left foot" or "right foot".
func (l Limb) String() string { return limbWords[l] }

// Subject is the limb as a sentence speaks of it: "the right hand".
func (l Limb) Subject() phrase.Phrase { return subjects[l] }

// IsHand reports whether the limb is a hand.
func (l Limb) IsHand() bool { return l <= LeftHand }

// isSharp reports whether a key is one of the short, raised ones.
func isSharp(key int) bool { return 0b010101001010>>pitchClass(key)&1 == 1 }

func pitchClass(key int) int { return (key%12 + 12) % 12 }

// keyName returns the name of a key for messages, such as "C4" or "Eb5".
func keyName(key int) string {
	return theory.PitchAt(nameOfPC(pitchClass(key)), key).String()
}

// nameOfPC spells a key as signatures of few accidentals do.
func nameOfPC(pc int) theory.Name {
	names := [12]string{"C", "C#", "D", "Eb", "E", "F", "F#", "G", "Ab", "A", "Bb", "B"}
	return theory.MustParseName(names[pc])
}
