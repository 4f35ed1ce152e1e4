package synth

import "math"

// Accent is the struck accent of the upper manual: a partial that sounds at
// the attack and dies away. It is struck by a key pressed while no other key
// of the manual is held; keys added later share what is left of it.
type Accent struct {
	Pitch AccentPitch
	// Loud is the higher of the two levels, Long the longer of the two lengths.
	Loud, Long bool
}

// AccentPitch is the partial an Accent sounds.
type AccentPitch uint8

// The partials, in the order of project.AccentPitch.
const (
	NoAccent AccentPitch = iota
	AccentOctave
	AccentTwelfth
)

// accentOffsets are the semitones from the key to each partial.
var accentOffsets = [3]int{0, 12, 19}

const (
	// accentSoft and accentLoud are the levels at the attack against a drawbar
	// at 8, in decibels.
	accentSoft = 0.0
	accentLoud = 5.0
	// accentShort and accentLong are the time constants in seconds: the accent
	// is 20 dB down after 2.3 times as long.
	accentShort = 0.14
	accentLong  = 0.45
	// accentContact is the contact under a key that carries the accent, in
	// time with that of the unison drawbar.
	accentContact = 2
)

// striker shapes the bus of the accent.
type striker struct {
	rate     float64
	setting  Accent
	envelope float32
	decay    float32
}

func (s *striker) init(rate int) { s.rate = float64(rate) }

func (s *striker) reset() { s.setting, s.envelope, s.decay = Accent{}, 0, 0 }

// strike begins the accent. What is left of old ramps in its bus ends first:
// nobody has heard them while it was silent.
func (s *striker) strike(v *voices) {
	if s.setting.Pitch == NoAccent {
		return
	}
	if s.envelope == 0 {
		v.settle()
	}
	level, length := accentSoft, accentShort
	if s.setting.Loud {
		level = accentLoud
	}
	if s.setting.Long {
		length = accentLong
	}
	s.envelope = decibels(level)
	s.decay = float32(math.Exp(-1 / (length * s.rate)))
}

// shape applies the envelope.
func (s *striker) shape(x []float32) {
	e, d := s.envelope, s.decay
	for i := range x {
		x[i] *= e
		e *= d
	}
	s.envelope = e
}

// flush ends the accent once nothing of it is heard.
func (s *striker) flush() {
	if s.envelope < 1e-5 {
		s.envelope = 0
	}
}

// joinAccent lets a key's accent into its bus or takes it out.
func (c *contacts) joinAccent(b *bank, key int, closed bool) {
	g := fold(key + c.accent)
	gain := unit * tapers[g]
	if !closed {
		gain = -gain
	}
	b.voices[accentBus].add(g, gain, b.samples)
}

// setAccent moves the accent of the keys that are held to another pitch.
func (c *contacts) setAccent(b *bank, offset int) {
	if offset == c.accent {
		return
	}
	for key := range c.closed[Upper] {
		if c.closed[Upper][key][accentContact] {
			c.joinAccent(b, key, false)
		}
	}
	c.accent = offset
	for key := range c.closed[Upper] {
		if c.closed[Upper][key][accentContact] {
			c.joinAccent(b, key, true)
		}
	}
}
