// Package words says the choices of a passage as musicians say them, the same
// way in menus, cards and pictures. The chart file and the command line write
// them in their own short forms.
package words

import (
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
)

var voicings = map[theory.Voicing]string{
	theory.Drop2: "drop 2", theory.Drop3: "drop 3", theory.Drop24: "drop 2 and 4", theory.DoubleLead: "double lead",
	theory.ThreePart: "three-part", theory.Pair: "thirds and sixths", theory.Spread: "open spread", theory.UnisonVoicing: "lead alone",
}

// Voicing names a voicing.
func Voicing(v theory.Voicing) string {
	if name, ok := voicings[v]; ok {
		return name
	}
	return v.String()
}

var techniques = map[theory.Technique]string{
	theory.Home: "home", theory.Away: "away", theory.Borrowed: "borrowed note",
	theory.Approach: "approach", theory.Diatonic: "from the scale", theory.Alone: "lead alone",
}

// Technique names a technique.
func Technique(t theory.Technique) string { return techniques[t] }

// Plan names a hand plan.
func Plan(p project.HandPlan) string {
	if p == project.TwoHandBlock {
		return "two-hand block"
	}
	return spaced(p.String())
}

// ShortPlan names a hand plan where there is little room.
func ShortPlan(p project.HandPlan) string {
	switch p {
	case project.TwoHandBlock:
		return "two-hand"
	case project.SoloOverComp:
		return "solo"
	}
	return Plan(p)
}

// Bass names what the feet play.
func Bass(b project.BassStyle) string { return spaced(b.String()) }

func spaced(s string) string { return strings.ReplaceAll(s, "-", " ") }

// Vibrato names a setting of the vibrato; a chorus is the same with dry signal
// beside it.
func Vibrato(v project.Vibrato) string {
	return [...]string{"still", "vibrato light", "vibrato medium", "vibrato deep", "chorus light", "chorus medium", "chorus deep"}[v]
}
