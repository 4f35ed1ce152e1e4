package synth

import "math"

// clicker is the sound of contacts bouncing on their bar: a burst of noise
// through a band-pass (two-pole state-variable filter, trapezoidal), with an
// envelope that every contact lifts and that dies away exponentially.
type clicker struct {
	level    float32
	envelope float32
	decay    float32
	seed     uint32
	state    uint32
	// Filter coefficients and state.
	g, k, a1 float32
	s1, s2   float32
}

const (
	// clickSeconds is the time constant of the burst.
	clickSeconds = 0.0012
	// clickFrequency and clickWidth are the middle and the damping of the
	// band: bright, without the hiss above 5 kHz.
	clickFrequency = 2200
	clickWidth     = 1.1
	// clickOpening is the level of an opening contact against a closing one.
	clickOpening = 0.4
	// clickScale brings a level of 1 to about the loudness of the tone itself.
	clickScale = 2.0
)

func (c *clicker) init(rate int, seed uint32) {
	c.seed = seed*0x9e3779b9 + 1
	c.decay = float32(math.Exp(-1 / (clickSeconds * float64(rate))))
	c.g = float32(math.Tan(math.Pi * clickFrequency / float64(rate)))
	c.k = clickWidth
	c.a1 = 1 / (1 + c.g*(c.g+c.k))
}

func (c *clicker) reset(level float32) {
	c.level, c.envelope, c.s1, c.s2, c.state = level, 0, 0, 0, c.seed
}

// strike adds the click of one contact that carries a gain.
func (c *clicker) strike(gain float32, closing bool) {
	add := gain * c.level * clickScale
	if !closing {
		add *= clickOpening
	}
	c.envelope += add
}

// sounding reports whether add would add anything.
func (c *clicker) sounding() bool { return c.envelope != 0 }

// add adds the click to a bus.
func (c *clicker) add(bus []float32) {
	for i := 0; i < len(bus) && c.envelope != 0; i++ {
		bus[i] += c.next()
	}
}

func (c *clicker) next() float32 {
	c.state = c.state*1664525 + 1013904223
	noise := float32(int32(c.state)) / (1 << 31) * c.envelope
	c.envelope *= c.decay
	// band-pass: v1 is the band output
	v1 := c.a1 * (c.s1 + c.g*(noise-c.s2))
	v2 := c.s2 + c.g*v1
	c.s1, c.s2 = 2*v1-c.s1, 2*v2-c.s2
	if c.envelope < 1e-9 {
		c.envelope, c.s1, c.s2 = 0, 0, 0
	}
	return v1
}
