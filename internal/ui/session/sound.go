package session

import (
	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

// Playback is what a Sound is asked to play.
type Playback struct {
	Performance *perform.Performance
	// From is where to begin, in seconds of the performance.
	From float64
	// Loop plays the performance again and again, from LoopFrom on, in
	// seconds, once its end was reached.
	Loop     bool
	LoopFrom float64
	// Resume takes the place of what is playing without a break: an edit, a
	// tempo or a muted layer was changed while it played.
	Resume bool
	// CountIn is how many bars of clicks go first; Click goes on clicking.
	CountIn int
	Click   bool
}

// Sound is the ear of a session: the transport of package player, or a fake in
// tests. Its methods return at once and are called from the window's goroutine.
type Sound interface {
	// Play starts playing; what was playing stops.
	Play(Playback) error
	// Stop stops playing and releases every key.
	Stop()
	// Position returns the position of what is audible now, in seconds of the
	// performance (below zero in a count-in), and whether it still plays.
	Position() (seconds float64, playing bool)
	// Audition sounds keys of a division briefly with a registration.
	Audition(d arrange.Division, keys []int, r project.Registration) error
	// Hold presses or releases one key, as on the drawn keyboards.
	Hold(d arrange.Division, key int, down bool)
	// Set draws the stops of a registration.
	Set(r project.Registration)
	// SetTone makes the instrument as a chart asks for.
	SetTone(project.Tone)
	// SetClick switches the metronome while playing.
	SetClick(on bool)
	// SetClickLevel sets the level of the metronome in decibels, 0 the usual.
	SetClickLevel(db float64)
	// SetLevel sets the level in decibels, 0 or less.
	SetLevel(db float64)
	// Level returns the greatest amplitude since the last call, 0 to 1.
	Level() float64
	// Status is "" when sound works, or a sentence saying why it does not.
	Status() string
	// Close frees the device.
	Close()
}

// silence is the sound of a session without one. Its position stands still, so
// playing ends at once.
type silence struct{}

func (silence) Play(Playback) error                                          { return nil }
func (silence) Stop()                                                        {}
func (silence) Position() (float64, bool)                                    { return 0, false }
func (silence) Audition(arrange.Division, []int, project.Registration) error { return nil }
func (silence) Hold(arrange.Division, int, bool)                             {}
func (silence) Set(project.Registration)                                     {}
func (silence) SetTone(project.Tone)                                         {}
func (silence) SetClick(bool)                                                {}
func (silence) SetClickLevel(float64)                                        {}
func (silence) SetLevel(float64)                                             {}
func (silence) Level() float64                                               { return 0 }
func (silence) Status() string                                               { return "" }
func (silence) Close()                                                       {}
