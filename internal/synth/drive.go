package synth

import "math"

// driver saturates softly, as a small valve amplifier does when pushed. It
// works at twice the sample rate, so that the harmonics it makes are filtered
// off before they fold back: a half-band filter on the way up, the curve, the
// same kind of filter, longer, on the way down. The curve itself acts on the
// straight line between each two half frames (see bend), which weakens the
// harmonics beyond the doubled rate, too. The signal passes with the same
// delay whether it is driven or not, so that it can fade between the two.
type driver struct {
	amount   ramp // amplification before the curve
	wet, dry ramp
	line     tape    // input
	up       [2]tape // the curve's output at even and odd half frames
	last     float32 // its input at the half frame before
	odd, sum [chunk + pad]float32
	primed   bool // up holds what came before
	tail     int
}

const (
	// upTaps and downTaps are how many samples of one phase the half-band
	// filters read; the other phase of each is a plain delay.
	upTaps   = 12
	downTaps = 32
	// driveMost is the amplification at full drive, in decibels, of a signal
	// that is brought to driveLevel first.
	driveMost  = 20
	driveLevel = 1.25
	driveDelay = upTaps/2 - 1 + downTaps/2
)

// upFilter and downFilter are the odd taps of the half-band filters, scaled so
// that each phase passes at a gain of 1.
var (
	upFilter   = halfBand(upTaps, 7)
	downFilter = halfBand(downTaps, 7.9)
)

// halfBand returns the n odd taps of a half-band filter: a windowed sinc under
// a Kaiser window.
func halfBand(n int, beta float64) []float32 {
	h := make([]float32, n)
	sum := 0.0
	taps := make([]float64, n)
	for i := range taps {
		t := float64(i) - float64(n-1)/2 // in frames; half frames in twice as many
		r := t / (float64(n) / 2)
		taps[i] = math.Sin(math.Pi*t) / (math.Pi * t) * bessel(beta*math.Sqrt(1-r*r))
		sum += taps[i]
	}
	for i := range h {
		h[i] = float32(taps[i] / sum)
	}
	return h
}

// bessel is the modified Bessel function of the first kind and order zero.
func bessel(x float64) float64 {
	sum, term := 1.0, 1.0
	for k := 1.0; term > 1e-17*sum; k++ {
		term *= x * x / (4 * k * k)
		sum += term
	}
	return sum
}

func (d *driver) init() {
	d.line.init(downTaps + upTaps)
	for i := range d.up {
		d.up[i].init(downTaps)
	}
}

func (d *driver) reset(smooth int) {
	d.line.reset()
	d.amount.reset(1, smooth)
	d.wet.reset(0, smooth)
	d.dry.reset(1, smooth)
	d.tail, d.primed = 0, false
}

// set drives by v, 0 (clean) to 1.
func (d *driver) set(v float32) {
	v = clamp01(v)
	if v == 0 {
		d.wet.to(0)
		d.dry.to(1)
		return
	}
	d.amount.to(decibels(float64(v) * driveMost))
	d.wet.to(1)
	d.dry.to(0)
}

// render drives x, delayed by driveDelay frames. It reports whether x holds
// anything afterwards.
func (d *driver) render(x []float32, sounding bool) bool {
	if sounding {
		d.tail = d.line.history + downTaps
	}
	n := len(x)
	if d.tail <= 0 {
		d.skip(n)
		d.dry.skip(n)
		return false
	}
	if !sounding {
		d.tail -= n
	}
	at := d.line.record(x)
	if d.wet.idle(0) {
		d.primed = false
		d.skip(n)
		d.undriven(x, at)
		return true
	}
	d.prime(at)
	if d.wet.idle(1) && d.dry.idle(0) {
		d.saturate(x, at)
		return true
	}
	d.saturate(d.sum[:n], at)
	d.undriven(x, at)
	d.wet.apply(d.sum[:n])
	mix(x, d.sum[:n], 1)
	return true
}

func (d *driver) skip(n int) {
	d.amount.skip(n)
	d.wet.skip(n)
}

// undriven writes the input, delayed, at the level it has left.
func (d *driver) undriven(x []float32, at int) {
	copy(x, d.line.x[at-driveDelay:])
	if !d.dry.idle(1) {
		d.dry.apply(x)
	}
}

// prime fills the history of the filters on the way down, for nothing has been
// driven lately.
func (d *driver) prime(at int) {
	if d.primed {
		return
	}
	d.primed = true
	for i := range d.up {
		d.up[i].reset()
	}
	even, odd := d.up[0].x[:downTaps], d.up[1].x[:downTaps]
	d.double(even, odd, at-downTaps)
	before, after := driveGains(d.amount.now())
	d.last = before * even[0]
	d.bend(even, odd, before, after)
}

// double writes the input from index at on at twice the rate: the even half
// frames are the input itself, the odd ones lie between.
func (d *driver) double(even, odd []float32, at int) {
	copy(even, d.line.x[at-upTaps/2:])
	convolve(odd, d.line.x[at-upTaps+1:], upFilter)
}

// saturate writes the driven signal.
func (d *driver) saturate(x []float32, at int) {
	n := len(x)
	e, o := d.up[0].room(), d.up[1].room()
	even, odd := d.up[0].x, d.up[1].x
	d.double(even[e:e+n], odd[o:o+n], at)
	d.up[0].at += n
	d.up[1].at += n
	d.curve(even[e:e+n], odd[o:o+n])
	convolve(d.odd[:n], odd[o-downTaps+1:], downFilter)
	shade(x[:n], d.odd[:], even[e-downTaps/2+1:], 0.5, 0, 0.5, 0, 0)
}

// driveGains are the factors before and after the curve for an amplification.
// The loudness is made up for in part, so that more drive is denser rather
// than louder.
func driveGains(amount float32) (before, after float32) {
	return driveLevel * amount, 1 / (driveLevel * float32(math.Sqrt(float64(amount))))
}

// curve saturates both phases.
func (d *driver) curve(even, odd []float32) {
	for i := range even {
		steady := d.amount.left == 0
		before, after := driveGains(d.amount.next())
		if steady {
			d.bend(even[i:], odd[i:], before, after)
			return
		}
		d.bendEach(even[i:i+1], odd[i:i+1], before, after)
	}
}

// bend brings the input through x/√(1+x²), a curve with the slope 1 at zero
// that ends at ±1, averaged over the straight line between each half frame and
// the one before. The mean has a closed form without a singularity,
//
//	(√(1+b²) − √(1+a²)) / (b − a) = (a + b) / (√(1+a²) + √(1+b²)),
//
// and averaging over the time of a half frame takes 12 to 30 dB from what
// would fold back from beyond the doubled rate (J. Parker and others,
// "Reducing the aliasing of nonlinear waveshaping using continuous-time
// convolution", 2016).
func (d *driver) bend(even, odd []float32, before, after float32) {
	if !vectors {
		d.bendEach(even, odd, before, after)
		return
	}
	last := d.last
	d.last = odd[len(odd)-1] * before
	bendAVX2(&even[0], &odd[0], len(even), before, after, last)
}

// bendEach is bend in plain Go.
func (d *driver) bendEach(even, odd []float32, before, after float32) {
	last := d.last
	odd = odd[:len(even)]
	root := radius(last)
	for i, e := range even {
		e *= before
		o := odd[i] * before
		re, ro := radius(e), radius(o)
		even[i] = (last + e) / (root + re) * after
		odd[i] = (e + o) / (re + ro) * after
		last, root = o, ro
	}
	d.last = last
}

func radius(x float32) float32 { return float32(math.Sqrt(float64(1 + x*x))) }
