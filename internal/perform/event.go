package perform

import (
	"cmp"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Kind says what an event does. At one instant events come in this order, so
// that a repeated key is released before it is struck again and a block is
// struck with its registration already set.
type Kind uint8

// The kinds of event, in the order they take effect at one instant.
const (
	KeyUp Kind = iota
	SetRegistration
	SetRotary
	SetSwell
	KeyDown
)

var kindWords = [...]string{"key up", "registration", "rotary", "swell", "key down"}

// String returns the kind in words.
func (k Kind) String() string { return kindWords[k] }

// Event is one thing that happens at the console.
type Event struct {
	// At is the performed position: repeats played out, swing applied.
	At project.Ticks
	// Seconds is the time from the start of the performance.
	Seconds float64
	Kind    Kind
	// Written is the position on the page the event stems from: for a KeyDown
	// the start of the note, for a KeyUp its end.
	Written project.Ticks

	// Division, Key (a MIDI key number), Limb, Layer, Finger and Step describe
	// the note of a KeyDown or KeyUp, as in arrange.Note. They are zero for
	// the other kinds.
	Division arrange.Division
	Key      int
	Limb     arrange.Limb
	Layer    arrange.Layer
	Finger   int
	Step     int

	// Registration is the whole setting from here on, for the three Set kinds.
	Registration *project.Registration
	// Value is the project.Rotary of a SetRotary and the swell, 0 to 1, of a
	// SetSwell.
	Value float64
}

// compareEvents orders events by time, then by kind, then by place on the
// console, so that equal input gives equal output.
func compareEvents(a, b Event) int {
	return cmp.Or(
		cmp.Compare(a.At, b.At),
		cmp.Compare(a.Kind, b.Kind),
		cmp.Compare(a.Division, b.Division),
		cmp.Compare(a.Key, b.Key),
	)
}

// PlayedBar is one bar in the order of playing.
type PlayedBar struct {
	// Bar is the index of the written bar.
	Bar int
	// Pass counts how often this bar has been played, 1 the first time.
	Pass int
	// Written is the bar's start on the page, At its start in performed ticks.
	Written, At project.Ticks
	Length      project.Ticks
	// Seconds is the time the bar starts at.
	Seconds float64
}

// Tempo is a stretch of constant tempo that lasts until the next one.
type Tempo struct {
	At      project.Ticks
	Seconds float64
	// Quarters is the number of quarter notes a minute.
	Quarters float64
}

// LayerSet is a set of layers.
type LayerSet uint8

// Layers returns the set of the given layers.
func Layers(layers ...arrange.Layer) (s LayerSet) {
	for _, l := range layers {
		s |= 1 << l
	}
	return s
}

// Has reports whether the set contains l.
func (s LayerSet) Has(l arrange.Layer) bool { return s&(1<<l) != 0 }

// With returns the set with l added or removed.
func (s LayerSet) With(l arrange.Layer, in bool) LayerSet {
	if in {
		return s | 1<<l
	}
	return s &^ (1 << l)
}
