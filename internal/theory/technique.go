package theory

import "fmt"

// Technique says how a block relates to its family.
type Technique uint8

// The techniques.
const (
	// Home is a block of the family's resting chord.
	Home Technique = iota
	// Away is a block of the family's diminished chord.
	Away
	// Borrowed is a block with a voice from the family's other chord.
	Borrowed
	// Approach is a block that slides into the next one in parallel.
	Approach
	// Diatonic is a block from the chord's own scale, no family involved.
	Diatonic
	// Alone is the lead by itself, in one or several octaves.
	Alone
)

var techniqueNames = [...]string{"home", "away", "borrowed", "approach", "diatonic", "unison"}

// String returns the word that files and screens use.
func (t Technique) String() string { return techniqueNames[t] }

// ParseTechnique reads a word written by String.
func ParseTechnique(s string) (Technique, error) {
	for i, name := range techniqueNames {
		if s == name {
			return Technique(i), nil
		}
	}
	return 0, fmt.Errorf("technique %q: expected one of %v", s, techniqueNames)
}
