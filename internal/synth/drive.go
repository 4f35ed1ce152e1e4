package synth

import "math"

// driver saturates softly, as a small valve amplifier does when pushed. It
// works at twice the sample rate, so that the harmonics it makes are filtered
// off before they fold back: a half-band filter on the way up, the curve, the
// same kind of filter, longer, on the way down. The signal passes with the
// same delay whether it is driven or not, so that it can fade between the two.
type driver struct {
	amount   ramp // amplification before the curve
	wet, dry ramp
	line     []float32            // input, oldest first
	up       [2]driveLine         // the curve's output at even and odd half frames
	odd, sum [chunk + pad]float32 // scratch
	primed   bool                 // up holds what came before
	tail     int
	history  int
}

// driveLine holds the history of one phase before the current chunk.
type driveLine [downTaps + chunk + pad]float32

const (
	// upTaps and downTaps are how many samples of one phase the half-band
	// filters read; the other phase of each is a plain delay.
	upTaps   = 12
	downTaps = 40
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
	downFilter = halfBand(downTaps, 8)
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
	d.history = downTaps + upTaps
	d.line = make([]float32, d.history+chunk+pad)
}

func (d *driver) reset(smooth int) {
	clear(d.line)
	d.up = [2]driveLine{}
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
		d.tail = d.history + downTaps
	}
	if d.tail <= 0 {
		d.amount.skip(len(x))
		d.wet.skip(len(x))
		d.dry.skip(len(x))
		return false
	}
	if !sounding {
		d.tail -= len(x)
	}
	copy(d.line[d.history:], x)
	driven := !d.wet.idle(0)
	if driven {
		d.prime()
		d.saturate(len(x))
	} else {
		d.primed = false
		d.amount.skip(len(x))
		d.wet.skip(len(x))
	}
	from := d.history - driveDelay
	copy(x, d.line[from:from+len(x)])
	d.dry.apply(x)
	if driven {
		d.wet.apply(d.sum[:len(x)])
		mix(x, d.sum[:len(x)], 1)
	}
	copy(d.line, d.line[len(x):len(x)+d.history])
	return true
}

// prime fills the history of the filters on the way down, for nothing has been
// driven lately.
func (d *driver) prime() {
	if d.primed {
		return
	}
	d.primed = true
	even, odd := d.up[0][:downTaps], d.up[1][:downTaps]
	copy(even, d.line[d.history-downTaps-upTaps/2:])
	convolve(odd, d.line[d.history-downTaps-upTaps+1:], upFilter)
	g := d.amount.now()
	for _, x := range [2][]float32{even, odd} {
		saturate(x, driveLevel*g, 1/(driveLevel*float32(math.Sqrt(float64(g)))))
	}
}

// saturate leaves the driven signal of n frames in sum.
func (d *driver) saturate(n int) {
	even, odd := d.up[0][downTaps:], d.up[1][downTaps:]
	// The even half frames are the input itself, the odd ones lie between.
	copy(even[:n], d.line[d.history-upTaps/2:])
	convolve(odd[:n], d.line[d.history-upTaps+1:], upFilter)
	d.curve(even[:n], odd[:n])
	convolve(d.odd[:n], d.up[1][1:], downFilter)
	delayed := d.up[0][downTaps-downTaps/2+1:]
	for i := range n {
		d.sum[i] = (d.odd[i] + delayed[i]) / 2
	}
	for p := range d.up {
		copy(d.up[p][:downTaps], d.up[p][n:n+downTaps])
	}
}

// curve saturates both phases. Its loudness is made up for in part, so that
// more drive is denser rather than louder.
func (d *driver) curve(even, odd []float32) {
	for i := 0; i < len(even); i++ {
		steady := d.amount.left == 0
		g := d.amount.next()
		before, after := driveLevel*g, 1/(driveLevel*float32(math.Sqrt(float64(g))))
		if steady {
			saturate(even[i:], before, after)
			saturate(odd[i:], before, after)
			return
		}
		even[i] = soft(even[i]*before) * after
		odd[i] = soft(odd[i]*before) * after
	}
}

// soft is a curve with the slope 1 at zero that ends at ±1.
func soft(x float32) float32 {
	return x / float32(math.Sqrt(float64(1+x*x)))
}
