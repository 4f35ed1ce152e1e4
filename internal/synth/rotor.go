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
	mics       stand   // of the microphones
	wanted     stand   // where they are being moved
	move       float64 // share of the way covered in one control period
	rise, fall float64 // share of the way covered in one control period
	speed      float64 // revolutions a second
	target     float64
	brake      float64 // the angle it stops at, in revolutions
	turn       float64 // angle in revolutions, 0 to 1
	at         int     // frames of the control period that have passed
	nearest    float64 // path to take off, so that no delay is longer than needed
	frames     float64 // that sound takes for a metre
	between    *interpolator
	half       arc  // half the angle of the control period
	now        arc  // the angle at its start
	aimed      bool // the microphones hold the end of the period before
	mic        [2]pickup
}

// pickup is what travels to one microphone: the shaded source, and its delay
// and gains on their way through the control period.
type pickup struct {
	sin, cos       float64 // of the angle it stands at
	end            arrival // at the end of the period
	way            glide
	low, lowStep   float32
	high, highStep float32
	line           tape
}

// stand is how far microphones are from the axis, in metres, and each of them
// from the front, in revolutions.
type stand struct{ distance, angle float64 }

// moveSeconds is how quickly microphones follow when they are moved.
const moveSeconds = 0.15

// arc is an angle in revolutions with its sine and cosine.
type arc struct{ turn, sin, cos float64 }

func newArc(turn float64) arc {
	s, c := math.Sincos(2 * math.Pi * turn)
	return arc{turn, s, c}
}

func (r *rotor) init(rate int, p RotorParams, mics Microphones, brake float64, table *interpolator) {
	r.between = table
	r.params, r.rate, r.brake = p, float64(rate), brake
	r.frames = r.rate / speedOfSound
	r.mics = stand{mics.Distance, mics.Angle}
	r.wanted = r.mics
	r.move = 1 - math.Exp(-control/(moveSeconds*r.rate))
	r.rise = 1 - math.Exp(-3*control/(p.Rise*r.rate))
	r.fall = 1 - math.Exp(-3*control/(p.Fall*r.rate))
	longest := 2*p.Radius/speedOfSound*r.rate + minDelay + 1
	for m := range r.mic {
		r.mic[m].line.init(int(longest) + taps)
	}
	r.stand()
}

// stand works out what follows from where the microphones are.
func (r *rotor) stand() {
	r.nearest = r.mics.distance - r.params.Radius
	for m, angle := range [2]float64{-r.mics.angle, r.mics.angle} {
		r.mic[m].sin, r.mic[m].cos = math.Sincos(2 * math.Pi * angle)
	}
}

// follow moves the microphones a little on their way.
func (r *rotor) follow() {
	if r.mics == r.wanted {
		return
	}
	d, a := r.wanted.distance-r.mics.distance, r.wanted.angle-r.mics.angle
	if math.Abs(d) < 1e-6 && math.Abs(a) < 1e-7 {
		r.mics = r.wanted
	} else {
		r.mics.distance += d * r.move
		r.mics.angle += a * r.move
	}
	r.stand()
}

// setBrake sets the angle to come to rest at. A rotor that rests elsewhere is
// set creeping.
func (r *rotor) setBrake(turn float64) {
	if turn == r.brake {
		return
	}
	r.brake = turn
	if r.speed == 0 && r.target == 0 {
		r.speed = math.Copysign(creep, r.params.Slow)
	}
}

func (r *rotor) reset(s Speed) {
	r.set(s)
	r.mics = r.wanted
	r.stand()
	r.speed, r.turn, r.at, r.aimed = r.target, 0, 0, false
	for m := range r.mic {
		r.mic[m].line.reset()
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
		r.mic[0].hear(low[i:i+n], high[i:i+n], r.at, left[i:i+n], r.between)
		r.mic[1].hear(low[i:i+n], high[i:i+n], r.at, right[i:i+n], r.between)
		r.at = (r.at + n) % control
		i += n
	}
}

// hear shades the source into the line and adds what arrives.
func (p *pickup) hear(low, high []float32, k int, out []float32, table *interpolator) {
	at := p.line.room()
	shade(p.line.x[at:at+len(low)], low, high, p.low, p.lowStep, p.high, p.highStep, k)
	p.line.at += len(low)
	p.way.add(p.line.x, at, k, out, table, 1)
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
	r.follow()
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
	if r.half.turn != step/2 {
		r.half = newArc(step / 2)
	}
	if !r.aimed || math.Abs(r.now.turn-r.turn) > 1e-9 {
		r.now = newArc(r.turn)
	}
	s, c := r.now.sin, r.now.cos
	hs, hc := r.half.sin, r.half.cos
	ms, mc := s*hc+c*hs, c*hc-s*hs     // the middle
	es, ec := ms*hc+mc*hs, mc*hc-ms*hs // the end
	for m := range r.mic {
		p := &r.mic[m]
		if !r.aimed {
			p.end = r.arrive(c*p.cos + s*p.sin)
		}
		middle, _ := r.path(mc*p.cos + ms*p.sin)
		begin := p.end
		p.end = r.arrive(ec*p.cos + es*p.sin)
		p.way = through(begin.delay, middle, p.end.delay)
		p.low, p.lowStep = between(begin.low, p.end.low)
		p.high, p.highStep = between(begin.high, p.end.high)
	}
	r.aimed = true
	// The next period begins where this one ends; rounding adds up to less
	// than 1e-10 in a day.
	r.now = arc{r.turn + step, es, ec}
	r.now.turn -= math.Floor(r.now.turn)
}

// arrival is what a microphone gets from the source at an angle: its delay in
// frames and the gains of its two bands.
type arrival struct{ delay, low, high float64 }

func (r *rotor) arrive(cos float64) arrival {
	delay, near := r.path(cos)
	return arrival{delay, near * away(cos, r.params.Low), near * away(cos, r.params.High)}
}

// path returns the delay in frames from the source at an angle to the
// microphone, given by its cosine, and the level by the distance travelled,
// which is 1 at the microphone's distance.
func (r *rotor) path(cos float64) (delay, near float64) {
	a, d := r.params.Radius, r.mics.distance
	metres := math.Sqrt(a*a + d*d - 2*a*d*cos)
	return minDelay + (metres-r.nearest)*r.frames, d / metres
}

// away is the gain of a source at an angle that loses part when turned away.
func away(cos, part float64) float64 { return 1 - part*(1-cos)/2 }

func between(from, to float64) (start, step float32) {
	return float32(from), float32((to - from) / control)
}
