package synth

import "math"

// driver saturates softly, as a small valve amplifier does when pushed. It
// works at four times the sample rate, so that the harmonics it makes are
// filtered off before they fold back: two half-band filters on the way up, the
// curve, two on the way down. The curve itself acts on the straight line between
// each two quarter frames (see bend), which weakens the harmonics beyond the
// fourfold rate, too. The signal passes with the same delay whether it is driven
// or not, so that it can fade between the two.
type driver struct {
	amount   ramp // amplification before the curve
	wet, dry ramp
	line     tape             // input
	in       [2]tape          // input at the half frames, even and odd
	out      [quarterLen]tape // what the curve makes of it at the quarter frames
	half     [2]tape          // and what is left of that at the half frames
	last     float32          // the curve's input at the quarter frame before
	odd      [chunk + pad]float32
	sum      [chunk + pad]float32
	primed   bool // out and half hold what came before
	tail     int
}

const (
	// quarterLen is how many quarter frames a frame has.
	quarterLen = 4
	// upTaps and downTaps are how many samples of one phase the half-band
	// filters between frames and half frames read; the other phase of each is a
	// plain delay. quarterTaps is the same for those between half and quarter
	// frames, which have far more room between what passes and what must not.
	upTaps      = 12
	downTaps    = 32
	quarterTaps = 8
	// quarterAhead is how many frames after its own a quarter frame, or a half
	// frame on the way down, is made of.
	quarterAhead = quarterTaps / 4
	// driveMost is the amplification at full drive, in decibels, of a signal
	// that is brought to driveLevel first.
	driveMost  = 20
	driveLevel = 1.25
	driveDelay = upTaps/2 - 1 + 2*quarterAhead + downTaps/2
	// driveMemory is how many frames before the present are gone through anew
	// when something is driven that has not been before.
	driveMemory = downTaps + 4*quarterAhead
)

// The filters are the odd taps of half-band filters, scaled so that each phase
// passes at a gain of 1; of the quarter ones, the first half.
var (
	upFilter   = halfBand(upTaps, 7)
	downFilter = halfBand(downTaps, 7.9)

	upQuarter   = quarterFilter(7)
	downQuarter = quarterFilter(7)
)

func quarterFilter(beta float64) *[quarterTaps / 2]float32 {
	return (*[quarterTaps / 2]float32)(halfBand(quarterTaps, beta))
}

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
	d.line.init(driveMemory + upTaps)
	for _, list := range [][]tape{d.in[:], d.out[:], d.half[:]} {
		for i := range list {
			list[i].init(downTaps)
		}
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

// prime goes through the last frames anew, for nothing has been driven lately.
// What is missing before them is silence to the filters, but gone again before
// anything is heard.
func (d *driver) prime(at int) {
	if d.primed {
		return
	}
	d.primed = true
	for _, list := range [][]tape{d.in[:], d.out[:], d.half[:]} {
		for i := range list {
			list[i].reset()
		}
	}
	amount := d.amount
	d.amount = ramp{target: amount.now()}
	d.last = 0
	d.saturate(d.sum[:driveMemory], at-driveMemory)
	d.amount = amount
}

// saturate writes the driven signal.
func (d *driver) saturate(x []float32, at int) {
	n := len(x)
	even, odd := d.halves(n, at)
	d.quarters(n, even, odd)
	even, odd = d.join(n)
	convolve(d.odd[:n], d.half[1].x[odd-downTaps+1:], downFilter)
	shade(x, d.odd[:], d.half[0].x[even-downTaps/2+1:], 0.5, 0, 0.5, 0, 0)
}

// halves brings n frames of the input from index at on to twice the rate: the
// even half frames are the input itself, the odd ones lie between. It returns
// where they are on their tapes.
func (d *driver) halves(n, at int) (even, odd int) {
	even, odd = d.in[0].room(), d.in[1].room()
	copy(d.in[0].x[even:even+n], d.line.x[at-upTaps/2:])
	convolve(d.in[1].x[odd:odd+n], d.line.x[at-upTaps+1:], upFilter)
	d.in[0].at += n
	d.in[1].at += n
	return even, odd
}

// quarters brings the half frames, quarterAhead before those of halves, to four
// times the rate and through the curve.
func (d *driver) quarters(n, even, odd int) {
	e, o := d.in[0].x[even-quarterAhead-2:], d.in[1].x[odd-quarterAhead-2:]
	var out [quarterLen][]float32
	for i := range out {
		t := &d.out[i]
		at := t.room()
		out[i] = t.x[at : at+n]
		t.at += n
	}
	copy(out[0], e[2:])
	copy(out[2], o[2:])
	midway(out[1], e[1:], o, upQuarter)
	midway(out[3], o[1:], e[1:], upQuarter)
	d.curve(&out)
}

// join brings n quarter frames, quarterAhead before those of quarters, back to
// twice the rate, and returns where the half frames are on their tapes.
func (d *driver) join(n int) (even, odd int) {
	var q [quarterLen][]float32
	for i := range q {
		t := &d.out[i]
		q[i] = t.x[t.at-n-quarterAhead-2:]
	}
	even, odd = d.half[0].room(), d.half[1].room()
	d.half[0].at += n
	d.half[1].at += n
	e, o := d.half[0].x[even:even+n], d.half[1].x[odd:odd+n]
	midway(d.odd[:n], q[3], q[1], downQuarter)
	shade(e, d.odd[:], q[0][2:], 0.5, 0, 0.5, 0, 0)
	midway(d.odd[:n], q[1][1:], q[3], downQuarter)
	shade(o, d.odd[:], q[2][2:], 0.5, 0, 0.5, 0, 0)
	return even, odd
}

// midway writes what lies midway between the first two in the sequence of
// which a and b are every other sample in turn, from each pair on: out[i] lies
// after a[i+1] and before b[i+2].
func midway(out, a, b []float32, taps *[quarterTaps / 2]float32) {
	if vectors && len(out) > 0 {
		midwayAVX2(&out[0], len(out), &a[0], &b[0], taps)
		return
	}
	h0, h1, h2, h3 := taps[0], taps[1], taps[2], taps[3]
	for ; len(out) >= 4 && len(a) >= 7 && len(b) >= 7; out, a, b = out[4:], a[4:], b[4:] {
		a, b := (*[7]float32)(a), (*[7]float32)(b)
		r := h3*(a[1]+b[2]) + h2*(b[1]+a[2]) + h1*(a[0]+b[3]) + h0*(b[0]+a[3])
		s := h3*(a[2]+b[3]) + h2*(b[2]+a[3]) + h1*(a[1]+b[4]) + h0*(b[1]+a[4])
		t := h3*(a[3]+b[4]) + h2*(b[3]+a[4]) + h1*(a[2]+b[5]) + h0*(b[2]+a[5])
		u := h3*(a[4]+b[5]) + h2*(b[4]+a[5]) + h1*(a[3]+b[6]) + h0*(b[3]+a[6])
		*(*[4]float32)(out) = [4]float32{r, s, t, u}
	}
	for i := range out {
		a, b := (*[4]float32)(a[i:]), (*[4]float32)(b[i:])
		out[i] = h3*(a[1]+b[2]) + h2*(b[1]+a[2]) + h1*(a[0]+b[3]) + h0*(b[0]+a[3])
	}
}

// driveGains are the factors before and after the curve for an amplification.
// The loudness is made up for in part, so that more drive is denser rather
// than louder.
func driveGains(amount float32) (before, after float32) {
	return driveLevel * amount, 1 / (driveLevel * float32(math.Sqrt(float64(amount))))
}

// curve saturates the four phases.
func (d *driver) curve(x *[quarterLen][]float32) {
	for i := range x[0] {
		steady := d.amount.left == 0
		before, after := driveGains(d.amount.next())
		if steady {
			d.bend(x[0][i:], x[1][i:], x[2][i:], x[3][i:], before, after)
			return
		}
		d.bendEach(x[0][i:i+1], x[1][i:i+1], x[2][i:i+1], x[3][i:i+1], before, after)
	}
}

// bend brings the input, four phases of it, through x/√(1+x²), a curve with the
// slope 1 at zero that ends at ±1, averaged over the straight line between each
// quarter frame and the one before. The mean has a closed form without a
// singularity,
//
//	(√(1+b²) − √(1+a²)) / (b − a) = (a + b) / (√(1+a²) + √(1+b²)),
//
// and averaging over the time of a quarter frame takes 12 to 30 dB from what
// would fold back from beyond the fourfold rate (J. Parker and others,
// "Reducing the aliasing of nonlinear waveshaping using continuous-time
// convolution", 2016).
func (d *driver) bend(w, x, y, z []float32, before, after float32) {
	if !vectors {
		d.bendEach(w, x, y, z, before, after)
		return
	}
	last := d.last
	d.last = z[len(w)-1] * before
	bendAVX2(&w[0], &x[0], &y[0], &z[0], len(w), before, after, last)
}

// bendEach is bend in plain Go.
func (d *driver) bendEach(w, x, y, z []float32, before, after float32) {
	last := d.last
	x, y, z = x[:len(w)], y[:len(w)], z[:len(w)]
	root := radius(last)
	for i := range w {
		p, q, r, s := w[i]*before, x[i]*before, y[i]*before, z[i]*before
		rp, rq, rr, rs := radius(p), radius(q), radius(r), radius(s)
		w[i] = (last + p) / (root + rp) * after
		x[i] = (p + q) / (rp + rq) * after
		y[i] = (q + r) / (rq + rr) * after
		z[i] = (r + s) / (rr + rs) * after
		last, root = s, rs
	}
	d.last = last
}

func radius(x float32) float32 { return float32(math.Sqrt(float64(1 + x*x))) }
