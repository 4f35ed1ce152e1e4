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

// wideVectors says whether the kernels that gain most from it use AVX-512. They
// give the same bits. Only tests change it.
var wideVectors = hasWideVectors()

// glideVector is glideAVX2 or its like.
func glideVector(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32) {
	if wideVectors {
		glideAVX512(out, n, line, r, start, slope, curve, from, gain)
		return
	}
	glideAVX2(out, n, line, r, start, slope, curve, from, gain)
}

// splitVector is splitAVX2 or its like.
func splitVector(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock) {
	if wideVectors {
		splitAVX512(x, n, drumLow, drumHigh, hornLow, hornHigh, state, m)
		return
	}
	splitAVX2(x, n, drumLow, drumHigh, hornLow, hornHigh, state, m)
}

// Pack24 writes samples as little-endian whole numbers of 24 bits, full for 1
// and −full for −1 and beyond, rounded to the nearest, halves away from zero; 0
// for what is not a number. It does so for as many samples as a kernel takes,
// which may be none, and returns how many. out must be four bytes longer than
// three for each sample; those four are lost.
func Pack24(out []byte, samples []float32, full float64) int {
	n := len(samples) &^ 7
	if !vectors || n == 0 {
		return 0
	}
	_ = out[3*n+3]
	packAVX2(&out[0], &samples[0], n, full)
	return n
}

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
	for len(tones) >= 8 {
		eightTones(out, waves, (*[8]tone)(tones))
		tones = tones[8:]
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

// eightTones is fourTones with eight, which loads and stores the sum half as
// often.
func eightTones(out, waves []float32, t *[8]tone) {
	n := len(out)
	a, b := waves[t[0].at:][:n], waves[t[1].at:][:n]
	c, d := waves[t[2].at:][:n], waves[t[3].at:][:n]
	e, f := waves[t[4].at:][:n], waves[t[5].at:][:n]
	g, h := waves[t[6].at:][:n], waves[t[7].at:][:n]
	ga, gb, gc, gd := t[0].gain, t[1].gain, t[2].gain, t[3].gain
	ge, gf, gg, gh := t[4].gain, t[5].gain, t[6].gain, t[7].gain
	for i, o := range out {
		out[i] = o + ga*a[i] + gb*b[i] + gc*c[i] + gd*d[i] + ge*e[i] + gf*f[i] + gg*g[i] + gh*h[i]
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
	if stepA == 0 && stepB == 0 {
		for i := range out {
			out[i] = a[i]*ga + b[i]*gb
		}
		return
	}
	k := float32(from)
	for i := range out {
		out[i] = a[i]*(ga+k*stepA) + b[i]*(gb+k*stepB)
		k++
	}
}

// convolve writes the inner products of taps, which are symmetric, with x from
// each sample on: out has one for each of its samples, and x is len(taps)−1
// longer than out. The number of taps is even.
func convolve(out, x, taps []float32) {
	if vectors && len(out) > 0 {
		convolveAVX2(&out[0], len(out), &x[0], &taps[0], len(taps))
		return
	}
	half := taps[:len(taps)/2]
	for ; len(out) >= 4 && len(half)%2 == 0; out, x = out[4:], x[4:] {
		fourFolded((*[4]float32)(out), x[:len(taps)+3], half)
	}
	for i := range out {
		out[i] = folded(x[i:i+len(taps)], half)
	}
}

// fourFolded is folded from each of four samples on. Two taps at a time meet
// five samples from the front and five from the back, so that most are loaded
// once for several results.
func fourFolded(out *[4]float32, x, half []float32) {
	var s0, s1, s2, s3 float32
	for ; len(half) >= 2 && len(x) >= 5; half, x = half[2:], x[2:len(x)-2] {
		c, d := half[0], half[1]
		a, b := (*[5]float32)(x), (*[5]float32)(x[len(x)-5:])
		s0 += c*(a[0]+b[1]) + d*(a[1]+b[0])
		s1 += c*(a[1]+b[2]) + d*(a[2]+b[1])
		s2 += c*(a[2]+b[3]) + d*(a[3]+b[2])
		s3 += c*(a[3]+b[4]) + d*(a[4]+b[3])
	}
	*out = [4]float32{s0, s1, s2, s3}
}

// folded is the inner product of x with taps and their mirror image.
func folded(x, half []float32) (s float32) {
	for ; len(half) >= 2 && len(x) >= 4; half, x = half[2:], x[2:len(x)-2] {
		a, b := (*[2]float32)(x), (*[2]float32)(x[len(x)-2:])
		s += half[0]*(a[0]+b[1]) + half[1]*(a[1]+b[0])
	}
	for i, c := range half {
		s += c * (x[i] + x[len(x)-1-i])
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

// emit writes left and right in turn, clipped, under a gain that has moved by
// step for each of from frames, and moves on.
func emit(out, left, right []float32, gain, step float32, from int) {
	if whole := len(left) &^ 7; vectors && whole > 0 {
		emitAVX2(&out[0], whole, &left[0], &right[0], gain, step, from, Ceiling)
		out, left, right, from = out[2*whole:], left[whole:], right[whole:], from+whole
	}
	if vectors && len(left) > 0 { // the same bits, however the frames are cut
		var x, y [8]float32
		var both [16]float32
		n := copy(x[:], left)
		copy(y[:], right[:n])
		emitAVX2(&both[0], 8, &x[0], &y[0], gain, step, from, Ceiling)
		copy(out, both[:2*n])
		return
	}
	out, right = out[:2*len(left)], right[:len(left)]
	for k, v := range left {
		g := gain + step*float32(from+k)
		out[2*k], out[2*k+1] = clip(v*g), clip(right[k]*g)
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

// grainPeaks raises each of most to the greatest absolute value of a grain of x,
// its samples and the quarter points after each. The first sample of the first is
// the sixth of x.
func grainPeaks(most, x []float32) {
	f := &quarterFilters
	x = x[:len(most)*grain+peakTaps-1]
	if vectors {
		grainPeaksAVX2(&most[0], len(most), &x[0], f)
		return
	}
	for j := range most {
		if peak(x[j*grain:][:grain+peakTaps-1])*peakReach <= threshold {
			continue // it cannot need any limiting, which is sooner known than its peak
		}
		top := max(most[j], peak(x[j*grain+peakTaps/2-1:][:grain]))
		for i := range grain {
			w := (*[peakTaps]float32)(x[j*grain+i:])
			var even, odd, half float32
			for k := range peakTaps / 2 {
				sum, difference := w[k]+w[peakTaps-1-k], w[k]-w[peakTaps-1-k]
				even += f.even[k] * sum
				odd += f.odd[k] * difference
				half += f.half[k] * sum
			}
			top = max(top, abs(even)+abs(odd), abs(half))
		}
		most[j] = top
	}
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
