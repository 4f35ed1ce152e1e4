package synth

import "math"

// RotorParams describe one turning loudspeaker: a source on a circle before
// two microphones.
type RotorParams struct {
	// Radius of the circle and Distance of the microphones from its centre,
	// in metres; Distance is above Radius.
	Radius, Distance float64
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

// speedOfSound at 20 °C, in metres a second.
const speedOfSound = 343

// control is how many frames the speed is constant for; the path within is
// followed by a parabola through its start, middle and end, whose error is
// below −90 dB at the highest speed.
const control = 32

// rotor renders one turning loudspeaker to two microphones.
type rotor struct {
	params     RotorParams
	rate       float64
	rise, fall float64 // share of the way covered in one control period
	corner     float32
	speed      float64 // revolutions a second
	target     float64
	turn       float64 // angle in revolutions, 0 to 1
	left       int     // frames left of the control period
	nearest    float64 // path to take off, so that no delay is longer than needed
	line       []float32
	history    int
	mic        [2]pickup
}

// pickup is what reaches one microphone: delay and gains on their way through
// the control period, and the state of the directivity filter.
type pickup struct {
	angle                   float64 // in revolutions
	delay, slope, curve     float32
	low, lowStep            float32
	high, highStep, lowPass float32
}

func (r *rotor) init(rate int, p RotorParams, micAngle float64) {
	r.params, r.rate = p, float64(rate)
	r.rise = 1 - math.Exp(-3*control/(p.Rise*r.rate))
	r.fall = 1 - math.Exp(-3*control/(p.Fall*r.rate))
	r.corner = float32(1 - math.Exp(-2*math.Pi*p.Corner/r.rate))
	r.nearest = p.Distance - p.Radius
	longest := 2*p.Radius/speedOfSound*r.rate + minDelay + 1
	r.history = int(longest) + taps
	r.line = make([]float32, r.history+chunk)
	r.mic[0].angle, r.mic[1].angle = -micAngle, micAngle
}

func (r *rotor) reset(s Speed) {
	clear(r.line)
	r.set(s)
	r.speed, r.turn, r.left = r.target, 0, 0
	for m := range r.mic {
		r.mic[m] = pickup{angle: r.mic[m].angle}
	}
}

func (r *rotor) set(s Speed) {
	r.target = [...]float64{0, r.params.Slow, r.params.Fast}[s]
}

// render adds what the microphones hear of x.
func (r *rotor) render(x, left, right []float32) {
	copy(r.line[r.history:], x)
	for at := 0; at < len(x); {
		if r.left == 0 {
			r.begin()
		}
		n := min(r.left, len(x)-at)
		i := r.history + at
		r.mic[0].hear(r.line, i, r.corner, left[at:at+n])
		r.mic[1].hear(r.line, i, r.corner, right[at:at+n])
		r.left -= n
		at += n
	}
	copy(r.line, r.line[len(x):len(x)+r.history])
}

// turnOnly lets n frames pass in silence.
func (r *rotor) turnOnly(n int) {
	for n > 0 {
		if r.left == 0 {
			r.begin()
		}
		k := min(r.left, n)
		for m := range r.mic {
			r.mic[m].skip(k)
		}
		r.left -= k
		n -= k
	}
}

// begin starts a control period.
func (r *rotor) begin() {
	r.left = control
	pace := r.fall
	if math.Abs(r.target) > math.Abs(r.speed) {
		pace = r.rise
	}
	r.speed += (r.target - r.speed) * pace
	if math.Abs(r.target-r.speed) < 1e-4 {
		r.speed = r.target
	}
	step := r.speed * control / r.rate
	for m := range r.mic {
		r.aim(&r.mic[m], step)
	}
	r.turn += step
	r.turn -= math.Floor(r.turn)
}

// aim lays out one microphone's control period of step revolutions.
func (r *rotor) aim(p *pickup, step float64) {
	at := r.turn - p.angle
	d0, c0 := r.path(at)
	d1, _ := r.path(at + step/2)
	d2, c2 := r.path(at + step)
	// Newton's forward differences of the parabola, a frame apart.
	bend := (d2 - 2*d1 + d0) * 2 // over the whole period
	p.curve = float32(2 * bend / (control * control))
	p.slope = float32((d2-d0-bend)/control + bend/(control*control))
	p.delay = float32(d0)
	p.low, p.lowStep = between(away(c0, r.params.Low), away(c2, r.params.Low))
	p.high, p.highStep = between(away(c0, r.params.High), away(c2, r.params.High))
	if math.Abs(float64(p.lowPass)) < 1e-15 {
		p.lowPass = 0 // see crossover.flush
	}
}

// path returns the delay in frames from the source at an angle (revolutions,
// 0 towards the microphone) and the cosine of the angle.
func (r *rotor) path(turn float64) (delay, cos float64) {
	cos = math.Cos(2 * math.Pi * turn)
	a, d := r.params.Radius, r.params.Distance
	metres := math.Sqrt(a*a + d*d - 2*a*d*cos)
	return minDelay + (metres-r.nearest)/speedOfSound*r.rate, cos
}

// away is the gain of a source at an angle that loses part when turned away.
func away(cos, part float64) float64 { return 1 - part*(1-cos)/2 }

func between(from, to float64) (start, step float32) {
	return float32(from), float32((to - from) / control)
}

// hear adds len(out) frames of line from index i on.
func (p *pickup) hear(line []float32, i int, corner float32, out []float32) {
	delay, slope, low, high, lowPass := p.delay, p.slope, p.low, p.high, p.lowPass
	for k := range out {
		y := read(line, i+k, delay)
		lowPass += corner * (y - lowPass)
		out[k] += lowPass*low + (y-lowPass)*high
		delay += slope
		slope += p.curve
		low += p.lowStep
		high += p.highStep
	}
	p.delay, p.slope, p.low, p.high, p.lowPass = delay, slope, low, high, lowPass
}

func (p *pickup) skip(n int) {
	for range n {
		p.delay += p.slope
		p.slope += p.curve
		p.low += p.lowStep
		p.high += p.highStep
	}
}
