package synth

import "math"

// crossover splits a signal into drum and horn, whose sum is flat: a
// Linkwitz-Riley crossover of fourth order (S. Linkwitz, "Active crossover
// networks for noncoincident drivers", 1976). The low band passes two equal
// Butterworth sections of second order; the sum of both bands is known to be
// the all-pass with the same poles, so the high band is that all-pass less the
// low band. Each band is then parted once more, by a filter of first order,
// at the frequency above which its rotor becomes directional.
type crossover struct {
	w0     float64 // the low-pass is w0·(1 + 2z + z²)
	a1, a2 float64
	corner [2]float64
	// state of two low-pass sections and the all-pass, in transposed direct
	// form II, and of the two filters of first order; double precision because
	// the poles lie close to 1.
	state [8]float64
	block *splitBlock // in memory of its own, so that it begins at a cache line
	// The samples of a block that is not complete yet; state is that before
	// it, so the block is computed again when more of it comes. What has come
	// does not depend on what follows, to the bit.
	group [8]float32
	fill  int
}

// splitBlock is what eight samples and the eight states before them become:
// for each of these sixteen inputs, its part in the eight samples of each band
// and in the states after them. The filters are linear, so this is all of
// them, and a processor that computes eight things at a time need not wait for
// one sample's result before the next (C. Barnes and S. Shinnaka, "Block-shift
// invariance and block implementation of discrete-time filters", 1980).
type splitBlock struct {
	band [16][4][8]float32
	next [16][8]float64
}

func (c *crossover) init(frequency, drumCorner, hornCorner float64, rate int) {
	w := math.Tan(math.Pi * frequency / float64(rate))
	norm := 1 / (1 + math.Sqrt2*w + w*w)
	c.w0 = w * w * norm
	c.a1, c.a2 = 2*(w*w-1)*norm, (1-math.Sqrt2*w+w*w)*norm
	for i, f := range [2]float64{drumCorner, hornCorner} {
		c.corner[i] = 1 - math.Exp(-2*math.Pi*f/float64(rate))
	}
	c.block = new(splitBlock)
	for k := range c.block.next {
		c.learn(k)
	}
	c.reset()
}

// learn fills in the parts of one input of the block, by listening to it.
func (c *crossover) learn(k int) {
	var x [8]float32
	c.reset()
	if k < 8 {
		x[k] = 1
	} else {
		c.state[k-8] = 1
	}
	b := &c.block.band[k]
	c.filter(x[:], b[0][:], b[1][:], b[2][:], b[3][:])
	c.block.next[k] = c.state
}

func (c *crossover) reset() { c.state, c.group, c.fill = [8]float64{}, [8]float32{}, 0 }

// pass lets n frames of silence pass while nothing sounds.
func (c *crossover) pass(n int) { c.fill = (c.fill + n) % 8 }

// split writes drum and horn, each below and above its corner.
func (c *crossover) split(x, drumLow, drumHigh, hornLow, hornHigh []float32) {
	if !vectors {
		c.filter(x, drumLow, drumHigh, hornLow, hornHigh)
		return
	}
	for i := 0; i < len(x); {
		n := (len(x) - i) &^ 7
		if c.fill > 0 || n == 0 {
			n = c.some(x[i:], drumLow[i:], drumHigh[i:], hornLow[i:], hornHigh[i:])
		} else {
			splitVector(&x[i], n, &drumLow[i], &drumHigh[i], &hornLow[i], &hornHigh[i], &c.state[0], c.block)
		}
		i += n
	}
}

// some splits the samples that x has of a block, and returns how many.
func (c *crossover) some(x, drumLow, drumHigh, hornLow, hornHigh []float32) int {
	n := copy(c.group[c.fill:], x)
	before := c.state
	var b [4][8]float32
	splitVector(&c.group[0], 8, &b[0][0], &b[1][0], &b[2][0], &b[3][0], &c.state[0], c.block)
	for i, to := range [4][]float32{drumLow, drumHigh, hornLow, hornHigh} {
		copy(to, b[i][c.fill:c.fill+n])
	}
	if c.fill += n; c.fill < 8 {
		c.state = before
	} else {
		c.group, c.fill = [8]float32{}, 0
	}
	return n
}

// filter is split one sample after the other. Everything is in one loop so
// that the filters, each waiting for its own last result, can wait at the same
// time; what does not depend on that result is added up before.
func (c *crossover) filter(x, drumLow, drumHigh, hornLow, hornHigh []float32) {
	n := len(x)
	drumLow, drumHigh, hornLow, hornHigh = drumLow[:n], drumHigh[:n], hornLow[:n], hornHigh[:n]
	w0, a1, a2, ca, cb := c.w0, c.a1, c.a2, c.corner[0], c.corner[1]
	p1, p2, q1, q2, r1, r2, la, lb := c.state[0], c.state[1], c.state[2], c.state[3], c.state[4], c.state[5], c.state[6], c.state[7]
	for i, in := range x {
		u := float64(in)
		b := w0 * u
		v := b + p1
		p1 = (2*b + p2) - a1*v
		p2 = b - a2*v
		b = w0 * v
		drum := b + q1
		q1 = (2*b + q2) - a1*drum
		q2 = b - a2*drum
		all := a2*u + r1
		r1 = (a1*u + r2) - a1*all
		r2 = u - a2*all
		horn := all - drum
		la += ca * (drum - la)
		lb += cb * (horn - lb)
		drumLow[i], drumHigh[i] = float32(la), float32(drum-la)
		hornLow[i], hornHigh[i] = float32(lb), float32(horn-lb)
	}
	c.state = [8]float64{p1, p2, q1, q2, r1, r2, la, lb}
}

// flush sets states to zero that no longer matter, so that silence is exact
// and no denormal number slows the processor.
func (c *crossover) flush() {
	if c.fill > 0 {
		return
	}
	for _, s := range c.state {
		if math.Abs(s) >= 1e-18 {
			return
		}
	}
	c.state = [8]float64{}
}
