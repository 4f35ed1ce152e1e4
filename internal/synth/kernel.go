package synth

import "math"

// The inner loops that cost most exist twice: in plain Go, which is the
// reference and runs everywhere, and as AVX2 kernels in kernel_amd64.s, which
// run where the processor has them. Both do the same operations on each sample
// in the same order; the kernels fuse multiplication and addition, so their
// results differ in the last bits.
//
// Kernels work on eight samples at a time. All but mix may write up to pad
// samples after the last one asked for, and read as many after the last one
// needed, so every buffer given to them is that much longer.

// pad is how many samples a buffer must be longer than what is used of it.
const pad = 8

// vectors says whether the kernels are used. It is set once; only tests
// change it.
var vectors = hasVectors()

// tone is one generator's part in a sum.
type tone struct {
	at   int // index of its first sample in the array of loops
	gain float32
}

// sumTones adds each tone to out, in order.
func sumTones(out, waves []float32, tones []tone) {
	if vectors && len(tones) > 0 && len(out) > 0 {
		sumAVX2(&out[0], len(out), &waves[0], &tones[0], len(tones))
		return
	}
	for len(tones) >= 4 {
		fourTones(out, waves, (*[4]tone)(tones))
		tones = tones[4:]
	}
	for _, t := range tones {
		oneTone(out, waves[t.at:t.at+len(out)], t.gain)
	}
}

// fourTones adds four tones in one pass, each sum in the order of the tones.
func fourTones(out, waves []float32, t *[4]tone) {
	n := len(out)
	a, b := waves[t[0].at:t[0].at+n], waves[t[1].at:t[1].at+n]
	c, d := waves[t[2].at:t[2].at+n], waves[t[3].at:t[3].at+n]
	ga, gb, gc, gd := t[0].gain, t[1].gain, t[2].gain, t[3].gain
	for ; len(out) >= 4 && len(a) >= 4 && len(b) >= 4 && len(c) >= 4 && len(d) >= 4; out, a, b, c, d = out[4:], a[4:], b[4:], c[4:], d[4:] {
		o, a, b, c, d := (*[4]float32)(out), (*[4]float32)(a), (*[4]float32)(b), (*[4]float32)(c), (*[4]float32)(d)
		o[0] = o[0] + ga*a[0] + gb*b[0] + gc*c[0] + gd*d[0]
		o[1] = o[1] + ga*a[1] + gb*b[1] + gc*c[1] + gd*d[1]
		o[2] = o[2] + ga*a[2] + gb*b[2] + gc*c[2] + gd*d[2]
		o[3] = o[3] + ga*a[3] + gb*b[3] + gc*c[3] + gd*d[3]
	}
	for i := range out {
		out[i] = out[i] + ga*a[i] + gb*b[i] + gc*c[i] + gd*d[i]
	}
}

func oneTone(out, wave []float32, gain float32) {
	wave = wave[:len(out)]
	for i := range out {
		out[i] += gain * wave[i]
	}
}

// fadeTone adds a wave whose gain moves in a straight line: it is left frames
// of step away from target.
func fadeTone(out, wave []float32, target, step float32, left int) {
	if vectors && len(out) > 0 {
		fadeAVX2(&out[0], len(out), &wave[0], target, step, left)
		return
	}
	wave = wave[:len(out)]
	for i, w := range wave {
		if left > 0 {
			left--
		}
		out[i] += w * (target - step*float32(left))
	}
}

// mix adds from, times gain, to into.
func mix(into, from []float32, gain float32) {
	if vectors && len(into) > 0 {
		mixAVX2(&into[0], len(into), &from[0], gain)
		return
	}
	from = from[:len(into)]
	for i := range into {
		into[i] += from[i] * gain
	}
}

// shade writes a·ga + b·gb, the gains having moved by a step for each of
// from frames, and moving on.
func shade(out, a, b []float32, ga, stepA, gb, stepB float32, from int) {
	if vectors && len(out) > 0 {
		shadeAVX2(&out[0], len(out), &a[0], &b[0], ga, stepA, gb, stepB, from)
		return
	}
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		k := float32(from + i)
		out[i] = a[i]*(ga+k*stepA) + b[i]*(gb+k*stepB)
	}
}

// convolve writes the inner products of taps with x from each sample on: out
// has one for each of its samples, and x is len(taps)−1 longer than out.
func convolve(out, x, taps []float32) {
	if vectors && len(out) > 0 {
		convolveAVX2(&out[0], len(out), &x[0], &taps[0], len(taps))
		return
	}
	for i := range out {
		out[i] = product(x[i:i+len(taps)], taps)
	}
}

// product is an inner product.
func product(x, taps []float32) (s float32) {
	for len(taps) >= 4 && len(x) >= 4 {
		c, w := (*[4]float32)(taps), (*[4]float32)(x)
		s += (c[0]*w[0] + c[1]*w[1]) + (c[2]*w[2] + c[3]*w[3])
		taps, x = taps[4:], x[4:]
	}
	for k, c := range taps {
		s += c * x[k]
	}
	return s
}

// sign is the sign bit of a float32.
const sign = 1 << 31

// scale multiplies x by g.
func scale(x []float32, g float32) {
	if whole := len(x) &^ 7; vectors && whole > 0 {
		scaleAVX2(&x[0], whole, g)
		x = x[whole:]
	}
	for i := range x {
		x[i] *= g
	}
}

// saturate brings each x to soft(x·before)·after. What follows in x is left
// alone.
func saturate(x []float32, before, after float32) {
	if whole := len(x) &^ 7; vectors && whole > 0 {
		saturateAVX2(&x[0], whole, before, after)
		x = x[whole:]
	}
	for i, v := range x {
		x[i] = soft(v*before) * after
	}
}

// butterfly replaces a and b by their sum and their difference.
func butterfly(a, b []float32) {
	if vectors && len(a) > 0 {
		butterflyAVX2(&a[0], &b[0], len(a))
		return
	}
	b = b[:len(a)]
	for i, v := range a {
		a[i], b[i] = v+b[i], v-b[i]
	}
}

// peak returns the greatest absolute value of x.
func peak(x []float32) float32 {
	if vectors && len(x)&7 == 0 && len(x) > 0 {
		return peakAVX2(&x[0], len(x))
	}
	var most uint32 // the bits of floats that are not negative order as the floats do
	for ; len(x) >= 4; x = x[4:] {
		y := (*[4]float32)(x)
		a, b := math.Float32bits(y[0])&^sign, math.Float32bits(y[1])&^sign
		c, d := math.Float32bits(y[2])&^sign, math.Float32bits(y[3])&^sign
		most = max(most, max(a, b), max(c, d))
	}
	for _, v := range x {
		most = max(most, math.Float32bits(v)&^sign)
	}
	return math.Float32frombits(most)
}

// turn moves each position on by n, round a loop of the given length, at least
// n. There are a multiple of eight of them.
func turn(pos, length []int32, n int32) {
	if vectors {
		turnAVX2(&pos[0], &length[0], len(pos), n)
		return
	}
	length = length[:len(pos)]
	for i, p := range pos {
		p += n - length[i]
		pos[i] = p + length[i]&(p>>31)
	}
}
