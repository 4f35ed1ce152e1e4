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
	w0      float64 // the low-pass is w0·(1 + 2z + z²)
	a1, a2  float64
	p, q, r section // two low-pass sections and the all-pass
	corner  [2]float64
	low     [2]float64 // state of the first-order filters
}

// section is the state of a section in transposed direct form II; it is double
// precision because the poles lie close to 1.
type section struct{ s1, s2 float64 }

func (c *crossover) init(frequency, drumCorner, hornCorner float64, rate int) {
	w := math.Tan(math.Pi * frequency / float64(rate))
	norm := 1 / (1 + math.Sqrt2*w + w*w)
	c.w0 = w * w * norm
	c.a1, c.a2 = 2*(w*w-1)*norm, (1-math.Sqrt2*w+w*w)*norm
	for i, f := range [2]float64{drumCorner, hornCorner} {
		c.corner[i] = 1 - math.Exp(-2*math.Pi*f/float64(rate))
	}
}

func (c *crossover) reset() {
	c.p, c.q, c.r, c.low = section{}, section{}, section{}, [2]float64{}
}

// split writes drum and horn, each below and above its corner. Everything is
// in one loop so that the filters, each waiting for its own last result, can
// wait at the same time.
func (c *crossover) split(x, drumLow, drumHigh, hornLow, hornHigh []float32) {
	n := len(x)
	drumLow, drumHigh, hornLow, hornHigh = drumLow[:n], drumHigh[:n], hornLow[:n], hornHigh[:n]
	w0, a1, a2, p, q, r := c.w0, c.a1, c.a2, c.p, c.q, c.r
	ca, cb, la, lb := c.corner[0], c.corner[1], c.low[0], c.low[1]
	for i, in := range x {
		u := float64(in)
		b := w0 * u
		v := b + p.s1
		p.s1 = 2*b - a1*v + p.s2
		p.s2 = b - a2*v
		b = w0 * v
		drum := b + q.s1
		q.s1 = 2*b - a1*drum + q.s2
		q.s2 = b - a2*drum
		all := a2*u + r.s1
		r.s1 = a1*(u-all) + r.s2
		r.s2 = u - a2*all
		horn := all - drum
		la += ca * (drum - la)
		lb += cb * (horn - lb)
		drumLow[i], drumHigh[i] = float32(la), float32(drum-la)
		hornLow[i], hornHigh[i] = float32(lb), float32(horn-lb)
	}
	c.p, c.q, c.r, c.low = p, q, r, [2]float64{la, lb}
}

// flush sets states to zero that no longer matter, so that silence is exact
// and no denormal number slows the processor.
func (c *crossover) flush() {
	for _, s := range [3]*section{&c.p, &c.q, &c.r} {
		s.flush()
	}
	for i := range c.low {
		if math.Abs(c.low[i]) < 1e-18 {
			c.low[i] = 0
		}
	}
}

func (s *section) flush() {
	if math.Abs(s.s1) < 1e-18 && math.Abs(s.s2) < 1e-18 {
		*s = section{}
	}
}
