package project

import (
	"fmt"
	"slices"
	"strings"
)

// Enumerations are written to files and screens as words; parseWord reads
// them back.

var (
	planWords   = []string{"shout", "solo-over-comp", "two-hand-block"}
	bassWords   = []string{"roots", "two-feel", "none"}
	rotaryWords = []string{"stopped", "slow", "fast"}
	pinWords    = []string{"block", "voicing", "technique"}
	jumpWords   = []string{"", "da capo", "da capo al fine", "da capo al coda", "dal segno", "dal segno al fine", "dal segno al coda"}
)

// HandPlans, BassStyles and RotarySpeeds list every value in menu order.
var (
	HandPlans    = []HandPlan{Shout, SoloOverComp, TwoHandBlock}
	BassStyles   = []BassStyle{BassRoots, BassTwoFeel, BassNone}
	RotarySpeeds = []Rotary{RotaryStopped, RotarySlow, RotaryFast}
)

// String returns the word files use: "shout", "solo-over-comp".
func (p HandPlan) String() string { return planWords[p] }

// String returns the word files use: "roots", "two-feel", "none".
func (b BassStyle) String() string { return bassWords[b] }

// String returns the word files use: "stopped", "slow", "fast".
func (r Rotary) String() string { return rotaryWords[r] }

// String returns the word files use: "block", "voicing", "technique".
func (p PinStrength) String() string { return pinWords[p] }

// String returns the printed instruction in lower case, empty for NoJump.
func (j Jump) String() string { return jumpWords[j] }

// ParseHandPlan reads a word written by HandPlan.String.
func ParseHandPlan(s string) (HandPlan, error) { return parseWord[HandPlan]("plan", planWords, s) }

// ParseBassStyle reads a word written by BassStyle.String.
func ParseBassStyle(s string) (BassStyle, error) { return parseWord[BassStyle]("bass", bassWords, s) }

// ParseRotary reads a word written by Rotary.String.
func ParseRotary(s string) (Rotary, error) { return parseWord[Rotary]("rotary", rotaryWords, s) }

// ParsePinStrength reads a word written by PinStrength.String.
func ParsePinStrength(s string) (PinStrength, error) {
	return parseWord[PinStrength]("pin", pinWords, s)
}

// ParseJump reads a word written by Jump.String.
func ParseJump(s string) (Jump, error) { return parseWord[Jump]("jump", jumpWords, s) }

func parseWord[T ~uint8](what string, words []string, s string) (T, error) {
	i := slices.Index(words, s)
	if i < 0 {
		return 0, fmt.Errorf("%s %q: expected one of %s", what, s, strings.Join(words, ", "))
	}
	return T(i), nil
}
