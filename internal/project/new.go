package project

import "organbook/internal/theory"

// New returns the chart a user starts from: eight empty bars of common time
// in C major at 120, straight, one default passage, the full console.
func New() *Chart {
	bars := make([]Bar, 8)
	for i := range bars {
		bars[i] = NewBar(CommonTime)
	}
	return &Chart{
		Key:      theory.MustParseKey("C major"),
		Tempo:    120,
		Swing:    0.5,
		Console:  DefaultConsole,
		Bars:     bars,
		Passages: []Passage{DefaultPassage()},
	}
}

// NewBar returns an unmarked bar that lasts as long as its meter says.
func NewBar(m Meter) Bar { return Bar{Meter: m, Length: m.Length()} }

// DefaultPassage returns the passage every chart starts with: close blocks
// from its first bar on, both hands on them over held roots, and the calm sound
// that a tune is stated with; the speaker turns slowly.
func DefaultPassage() Passage {
	return Passage{
		Treatment:    Treatment{Voicing: theory.Close},
		Plan:         Shout,
		Bass:         BassRoots,
		Registration: builtIn("muted brass"),
	}
}
