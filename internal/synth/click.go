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
	// The state of the filter, and the parts of its state and of the noise in
	// its output and in the state after.
	s1, s2 float32
	out    [3]float32
	next   [2][3]float32
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
	// The filter solved for what follows from (s1, s2, noise), so that a sample
	// waits for no more than two sums of the one before.
	g := math.Tan(math.Pi * clickFrequency / float64(rate))
	a := 1 / (1 + g*(g+clickWidth))
	for i, band := range [3]float64{a, -a * g, a * g} {
		own := [2][3]float64{{-1, 0, 0}, {0, 1, 0}}
		c.out[i] = float32(band)
		c.next[0][i] = float32(own[0][i] + 2*band)
		c.next[1][i] = float32(own[1][i] + 2*g*band)
	}
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

// add adds the click to a bus. The state is kept in variables, which need not
// be written back before the next sample can begin.
func (c *clicker) add(bus []float32) {
	envelope, s1, s2, state, decay := c.envelope, c.s1, c.s2, c.state, c.decay
	out, next := c.out, c.next
	for i := range bus {
		state = state*1664525 + 1013904223
		noise := float32(int32(state)) / (1 << 31) * envelope
		envelope *= decay
		bus[i] += out[0]*s1 + out[1]*s2 + out[2]*noise
		s1, s2 = next[0][0]*s1+(next[0][1]*s2+next[0][2]*noise), next[1][1]*s2+(next[1][0]*s1+next[1][2]*noise)
		if envelope < 1e-9 {
			envelope, s1, s2 = 0, 0, 0
			break
		}
	}
	c.envelope, c.s1, c.s2, c.state = envelope, s1, s2, state
}
