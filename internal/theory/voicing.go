package theory

import (
	"fmt"
	"strings"
)

// Voicing is the way a close block is spread over its register.
type Voicing uint8

// The voicings, in the order a user meets them.
const (
	Close Voicing = iota
	Drop2
	Drop3
	Drop24
	DoubleLead
	ThreePart
	Pair
	Spread
	Fourths
	Octaves
	UnisonVoicing
)

var voicingNames = [...]string{
	Close: "close", Drop2: "drop2", Drop3: "drop3", Drop24: "drop24",
	DoubleLead: "double-lead", ThreePart: "three-part", Pair: "pair",
	Spread: "spread", Fourths: "fourths", Octaves: "octaves", UnisonVoicing: "unison",
}

// String returns the word that files use: "close", "drop2", "double-lead".
func (v Voicing) String() string { return voicingNames[v] }

// ParseVoicing reads a word written by String.
func ParseVoicing(s string) (Voicing, error) {
	for i, name := range voicingNames {
		if s == name {
			return Voicing(i), nil
		}
	}
	return 0, fmt.Errorf("voicing %q: expected one of %s", s, strings.Join(voicingNames[:], ", "))
}
