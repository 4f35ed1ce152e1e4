package synth

import (
	"fmt"
	"math"
)

// RotorParams describe one turning loudspeaker: a source on a circle before
// two microphones.
type RotorParams struct {
	// Radius of the circle in metres, below the microphones' distance.
	Radius float64
	// Slow and Fast are revolutions a second; the sign is the direction.
	Slow, Fast float64
	// Rise and Fall are how long a change to a faster or slower speed takes
	// to cover 95 % of the way, in seconds. The approach is exponential.
	Rise, Fall float64
	// Corner is the frequency in hertz above which the source is directional;
	// Low and High are how much softer it is when turned away from a
	// microphone, as a part of the amplitude, below and above the corner.
	Corner, Low, High float64
}

func (p *RotorParams) check(name string, distance float64) error {
	switch {
	case !(p.Radius >= 0 && p.Radius < distance):
		return fmt.Errorf("%s radius %g m, microphones at %g m: expected 0 ≤ radius < distance", name, p.Radius, distance)
	case !(p.Rise > 0 && p.Fall > 0):
		return fmt.Errorf("%s inertia %g and %g s: expected above 0", name, p.Rise, p.Fall)
	case !(p.Corner > 0):
		return fmt.Errorf("%s corner %g Hz: expected above 0", name, p.Corner)
	}
	return nil
}

// speedOfSound at 20 °C, in metres a second.
const speedOfSound = 343

// rotor renders one turning loudspeaker to two microphones: the source is
// shaded by where it points, then travels the path from where it is. Speed is
// constant within a control period, and the path follows a parabola through
// its start, middle and end, whose error is below −90 dB at the highest speed.
type rotor struct {
	params     RotorParams
	rate       float64
	distance   float64
	rise, fall float64 // share of the way covered in one control period
	speed      float64 // revolutions a second
	target     float64
	brake      float64 // the angle it stops at, in revolutions
	turn       float64 // angle in revolutions, 0 to 1
	at         int     // frames of the control period that have passed
	nearest    float64 // path to take off, so that no delay is longer than needed
	history    int
	mic        [2]pickup
	heard      [chunk + pad]float32
}

// pickup is what travels to one microphone: the shaded source, and its delay
// and gains on their way through the control period.
type pickup struct {
	sin, cos       float64 // of the angle it stands at
	way            glide
	low, lowStep   float32
	high, highStep float32
	line           []float32
}

func (r *rotor) init(rate int, p RotorParams, mics Microphones, brake float64) {
	r.params, r.rate, r.distance, r.brake = p, float64(rate), mics.Distance, brake
	r.rise = 1 - math.Exp(-3*control/(p.Rise*r.rate))
	r.fall = 1 - math.Exp(-3*control/(p.Fall*r.rate))
	r.nearest = r.distance - p.Radius
	longest := 2*p.Radius/speedOfSound*r.rate + minDelay + 1
	r.history = int(longest) + taps
	for m := range r.mic {
		r.mic[m].line = make([]float32, r.history+chunk+pad)
	}
	for m, angle := range [2]float64{-mics.Angle, mics.Angle} {
		r.mic[m].sin, r.mic[m].cos = math.Sincos(2 * math.Pi * angle)
	}
}

func (r *rotor) reset(s Speed) {
	r.set(s)
	r.speed, r.turn, r.at = r.target, 0, 0
	for m := range r.mic {
		clear(r.mic[m].line)
	}
}

func (r *rotor) set(s Speed) {
	r.target = [...]float64{0, r.params.Slow, r.params.Fast}[s]
}

// render adds what the microphones hear of a source, given in two bands that
// are directional in different degrees.
func (r *rotor) render(low, high, left, right []float32) {
	for i := 0; i < len(low); {
		if r.at == 0 {
			r.begin()
		}
		n := min(control-r.at, len(low)-i)
		for m := range r.mic {
			r.mic[m].hear(low[i:i+n], high[i:i+n], r.history+i, r.at, r.heard[:n])
			mix([2][]float32{left, right}[m][i:i+n], r.heard[:n], 1)
		}
		r.at = (r.at + n) % control
		i += n
	}
	for m := range r.mic {
		line := r.mic[m].line
		copy(line, line[len(low):len(low)+r.history])
	}
}

// hear shades the source into the line and reads the line where it arrives.
func (p *pickup) hear(low, high []float32, i, k int, out []float32) {
	shade(p.line[i:i+len(low)], low, high, p.low, p.lowStep, p.high, p.highStep, k)
	p.way.read(p.line, i, k, out)
}

// turnOnly lets n frames pass in silence.
func (r *rotor) turnOnly(n int) {
	for n > 0 {
		if r.at == 0 {
			r.begin()
		}
		k := min(control-r.at, n)
		r.at = (r.at + k) % control
		n -= k
	}
}

// begin starts a control period.
func (r *rotor) begin() {
	pace := r.fall
	if math.Abs(r.target) > math.Abs(r.speed) {
		pace = r.rise
	}
	r.speed += (r.target - r.speed) * pace
	step := r.speed * control / r.rate
	switch {
	case r.target == 0:
		step = r.slowDown(step)
	case math.Abs(r.target-r.speed) < 1e-4:
		r.speed = r.target
	}
	r.aim(step)
	r.turn += step
	r.turn -= math.Floor(r.turn)
}

const (
	// creep is the speed, in revolutions a second, at which a rotor that is
	// braked looks for the angle it is to stop at.
	creep = 0.25
	// slowest is the least speed of the last stretch.
	slowest = 0.01
	// arrived is how near the angle the rotor stops, in revolutions.
	arrived = 2e-4
)

// slowDown brings a braked rotor to rest at its angle: once it creeps, it
// goes on creeping towards the angle, and the last stretch in proportion to
// what is left. It returns the step of this control period.
func (r *rotor) slowDown(step float64) float64 {
	if r.speed == 0 || math.Abs(r.speed) > creep {
		return step
	}
	way := r.brake - r.turn // in the direction of turning, 0 to 1
	if r.speed < 0 {
		way = -way
	}
	way -= math.Floor(way)
	if way < arrived || way > 1-arrived {
		r.speed = 0
		return 0
	}
	r.speed = math.Copysign(min(creep, max(way*3/r.params.Fall, slowest)), r.speed)
	return math.Copysign(min(math.Abs(r.speed)*control/r.rate, way), r.speed)
}

// aim lays out the microphones' control period of step revolutions.
func (r *rotor) aim(step float64) {
	s, c := math.Sincos(2 * math.Pi * r.turn)
	hs, hc := math.Sincos(math.Pi * step) // half a step
	ms, mc := s*hc+c*hs, c*hc-s*hs        // the middle
	es, ec := ms*hc+mc*hs, mc*hc-ms*hs    // the end
	for m := range r.mic {
		p := &r.mic[m]
		c0, c1, c2 := c*p.cos+s*p.sin, mc*p.cos+ms*p.sin, ec*p.cos+es*p.sin
		d0, near0 := r.path(c0)
		d1, _ := r.path(c1)
		d2, near2 := r.path(c2)
		p.way = through(d0, d1, d2)
		p.low, p.lowStep = between(near0*away(c0, r.params.Low), near2*away(c2, r.params.Low))
		p.high, p.highStep = between(near0*away(c0, r.params.High), near2*away(c2, r.params.High))
	}
}

// path returns the delay in frames from the source at an angle to the
// microphone, given by its cosine, and the level by the distance travelled,
// which is 1 at the microphone's distance.
func (r *rotor) path(cos float64) (delay, near float64) {
	a, d := r.params.Radius, r.distance
	metres := math.Sqrt(a*a + d*d - 2*a*d*cos)
	return minDelay + (metres-r.nearest)/speedOfSound*r.rate, d / metres
}

// away is the gain of a source at an angle that loses part when turned away.
func away(cos, part float64) float64 { return 1 - part*(1-cos)/2 }

func between(from, to float64) (start, step float32) {
	return float32(from), float32((to - from) / control)
}
