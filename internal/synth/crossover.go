package synth

import "math"

// crossover splits a signal into two bands whose sum is flat: a Linkwitz-Riley
// crossover of fourth order (S. Linkwitz, "Active crossover networks for
// noncoincident drivers", 1976), each side two equal Butterworth sections of
// second order.
type crossover struct {
	low, high [2]biquad
}

func (c *crossover) init(frequency float64, rate int) {
	w := math.Tan(math.Pi * frequency / float64(rate))
	norm := 1 / (1 + math.Sqrt2*w + w*w)
	a1, a2 := 2*(w*w-1)*norm, (1-math.Sqrt2*w+w*w)*norm
	for i := range c.low {
		c.low[i] = biquad{b0: w * w * norm, b1: 2 * w * w * norm, b2: w * w * norm, a1: a1, a2: a2}
		c.high[i] = biquad{b0: norm, b1: -2 * norm, b2: norm, a1: a1, a2: a2}
	}
}

func (c *crossover) reset() {
	for i := range c.low {
		c.low[i].s1, c.low[i].s2 = 0, 0
		c.high[i].s1, c.high[i].s2 = 0, 0
	}
}

// split writes the bands of x.
func (c *crossover) split(x, low, high []float32) {
	cascade(&c.low, x, low)
	cascade(&c.high, x, high)
}

// flush sets states to zero that no longer matter, so that silence is exact
// and no denormal number slows the processor.
func (c *crossover) flush() {
	for i := range c.low {
		c.low[i].flush()
		c.high[i].flush()
	}
}

// biquad is a filter section of second order in transposed direct form II; its
// state is double precision because the poles lie close to 1.
type biquad struct {
	b0, b1, b2, a1, a2 float64
	s1, s2             float64
}

func (q *biquad) flush() {
	if math.Abs(q.s1) < 1e-18 && math.Abs(q.s2) < 1e-18 {
		q.s1, q.s2 = 0, 0
	}
}

// cascade filters x into y through both sections.
func cascade(sections *[2]biquad, x, y []float32) {
	p, q := &sections[0], &sections[1]
	b0, b1, b2, a1, a2 := p.b0, p.b1, p.b2, p.a1, p.a2 // the sections are equal
	p1, p2, q1, q2 := p.s1, p.s2, q.s1, q.s2
	y = y[:len(x)]
	for i, in := range x {
		u := float64(in)
		v := b0*u + p1
		p1 = b1*u - a1*v + p2
		p2 = b2*u - a2*v
		w := b0*v + q1
		q1 = b1*v - a1*w + q2
		q2 = b2*v - a2*w
		y[i] = float32(w)
	}
	p.s1, p.s2, q.s1, q.s2 = p1, p2, q1, q2
}
