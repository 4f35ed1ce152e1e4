package synth

import "math"

// Reading a delay line between its samples: eight samples under coefficients
// that are optimal, in the sense of least squares, for frequencies up to an
// edge (T. Laakso and others, "Splitting the unit delay", 1996, section on
// general least squares). Against Lagrange interpolation of the same length
// they move the error from the highest generator, 5.9 kHz, to all frequencies
// alike. Over the fraction of a frame each coefficient follows a polynomial of
// degree four (C. Farrow, "A continuously variable digital delay element",
// 1988), which errs by less than the coefficients themselves. Plain Go looks
// the polynomials up in a table and interpolates linearly; the kernel, for
// which a multiplication is cheaper than a look-up, evaluates them for eight
// frames at once.

const (
	taps   = 8
	phases = 128
	degree = 4
	// minDelay is the shortest delay a read may ask for, in frames.
	minDelay = taps / 2
)

// interpolator reads between samples with some of the eight coefficients; the
// others, outside, are zero. The kernels know this layout; with the pairs in
// front none of them lies across the border of two cache lines.
type interpolator struct {
	// pairs holds, for each pair of coefficients that mirror each other, the
	// even powers of the polynomial of the first, for the sum of the two
	// samples, and the odd ones, for their difference: ascending, each eight
	// times.
	pairs [taps / 2][degree + 1][8]float32
	// rows holds, for each fraction of a frame, the coefficients and how much
	// they change towards the next row's for each of finePart steps.
	rows [phases][2 * taps]float32
	few  bool // four coefficients
}

// The interpolators, each for what passes through it: any sound of the
// generators within −105 dB; the band of the drum, which the crossover has
// taken most out of where four coefficients begin to err, within −100 dB of
// full scale.
var (
	wide   = newInterpolator(8, 7000.0/48000)
	narrow = newInterpolator(4, 2000.0/48000)
)

// newInterpolator designs n coefficients, optimal up to a frequency given as a
// part of the sample rate.
func newInterpolator(n int, edge float64) *interpolator {
	t := interpolator{few: n == 4}
	poly := polynomials(n, edge)
	at := func(j, row int) (c float64) {
		u := 0.5 - float64(row)/phases
		for k := degree; k >= 0; k-- {
			c = c*u + poly[j][k]
		}
		return c
	}
	for row := range t.rows {
		for j := range taps {
			t.rows[row][j] = float32(at(j, row))
			t.rows[row][taps+j] = float32((at(j, row+1) - at(j, row)) / finePart)
		}
	}
	for p := range t.pairs {
		for k, power := range [degree + 1]int{0, 2, 4, 1, 3} {
			for lane := range 8 {
				t.pairs[p][k][lane] = float32(poly[p][power])
			}
		}
	}
	return &t
}

// polynomials are those of the coefficients, over the distance from the middle
// of the eight samples towards the later ones, −½ to ½: they run through the
// optimal coefficients at Chebyshev's points.
func polynomials(n int, edge float64) (poly [taps][degree + 1]float64) {
	const points = degree + 1
	var at [points]float64
	var h [points][taps]float64
	for i := range at {
		at[i] = math.Cos(math.Pi*(float64(i)+0.5)/points) / 2
		optimal(n, edge, 0.5-at[i], &h[i])
	}
	for j := range taps {
		m := make([][]float64, points)
		for i := range m {
			m[i] = make([]float64, points+1)
			for k := range points {
				m[i][k] = math.Pow(at[i], float64(k))
			}
			m[i][points] = h[i][j]
		}
		solve(m)
		for k := range points {
			poly[j][k] = m[k][points]
		}
	}
	return poly
}

// optimal writes the n coefficients that delay by fraction beyond the fifth of
// the eight samples: the solution of the normal equations, whose elements are
// integrals of cosines over the band.
func optimal(n int, edge, fraction float64, h *[taps]float64) {
	first := (taps - n) / 2
	m := make([][]float64, n)
	for j := range m {
		m[j] = make([]float64, n+1)
		for k := range n {
			m[j][k] = bandIntegral(float64(j-k), edge)
		}
		m[j][n] = bandIntegral(float64(first+j-taps/2)+fraction, edge)
	}
	solve(m)
	for j := range m {
		h[first+j] = m[j][n]
	}
}

// bandIntegral is the integral of cos(w·t) over the band.
func bandIntegral(t, edge float64) float64 {
	edge *= 2 * math.Pi
	if t == 0 {
		return edge
	}
	return math.Sin(edge*t) / t
}

// solve brings a matrix with its right-hand side to diagonal form (Gauss and
// Jordan, with the greatest pivot).
func solve(m [][]float64) {
	n := len(m)
	for c := range n {
		best := c
		for r := c; r < n; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		m[c], m[best] = m[best], m[c]
		for k := n; k >= c; k-- {
			m[c][k] /= m[c][c]
		}
		for r := range n {
			if r == c {
				continue
			}
			f := m[r][c]
			for k := c; k <= n; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
}

// control is how many frames a delay follows one parabola for.
const control = 32

// glide is a delay on its way through a control period, in frames: at frame k
// it is start + k·slope + k(k−1)/2·curve.
type glide struct {
	start, slope, curve float32
}

// through returns the parabola with the given delays at the start, middle and
// end of the period, by Newton's forward differences a frame apart.
func through(d0, d1, d2 float64) glide {
	bend := (d2 - 2*d1 + d0) * 2 // over the whole period
	return glide{
		start: float32(d0),
		slope: float32((d2-d0-bend)/control + bend/(control*control)),
		curve: float32(2 * bend / (control * control)),
	}
}

// add adds to out, times gain, what line was at each frame from index i on,
// delayed; k is the first frame's place in the control period. Delays are at
// least minDelay and at most i−minDelay.
func (g glide) add(line []float32, i, k int, out []float32, r *interpolator, gain float32) {
	if vectors && len(out) > 0 {
		glideVector(&out[0], len(out), &line[i-taps/2], r, g.start, g.slope, g.curve, k, gain)
		return
	}
	if r.few {
		g.addFour(line, i, k, out, &r.rows, gain)
	} else {
		g.addEight(line, i, k, out, &r.rows, gain)
	}
}

// The plain reads count delays in whole numbers, of which fine make a frame:
// additions of them are exact, so that a delay does not depend on where a read
// begins, and each needs but two.
const (
	fine     = 1 << 32
	finePart = fine / phases // in a row of the table
)

// exactly is the glide from frame k on in these numbers: delay, and how much
// it moves to the next frame, and how much that moves.
func (g glide) exactly(k int) (delay, slope, curve int64) {
	delay, slope, curve = int64(g.start*fine), int64(g.slope*fine), int64(g.curve*fine)
	at := int64(k)
	return delay + at*slope + at*(at-1)/2*curve, slope + at*curve, curve
}

func (g glide) addEight(line []float32, i, k int, out []float32, table *[phases][2 * taps]float32, gain float32) {
	delay, slope, curve := g.exactly(k)
	whole, x := int64(-1), line
	for j := range out {
		if delay>>32 != whole { // mostly the samples are those of the frame before, one further
			whole = delay >> 32
			x = line[i+j-int(whole)-taps/2:]
		}
		c, part := &table[uint64(delay)/finePart%phases], float32(int32(delay&(finePart-1)))
		delay += slope
		slope += curve
		y := (*[taps]float32)(x)
		x = x[1:]
		out[j] += gain * (((y[0]*(c[0]+part*c[8]) + y[1]*(c[1]+part*c[9])) + (y[2]*(c[2]+part*c[10]) + y[3]*(c[3]+part*c[11]))) +
			((y[4]*(c[4]+part*c[12]) + y[5]*(c[5]+part*c[13])) + (y[6]*(c[6]+part*c[14]) + y[7]*(c[7]+part*c[15]))))
	}
}

// addFour is addEight for rows of four coefficients.
func (g glide) addFour(line []float32, i, k int, out []float32, table *[phases][2 * taps]float32, gain float32) {
	delay, slope, curve := g.exactly(k)
	whole, x := int64(-1), line
	for j := range out {
		if delay>>32 != whole {
			whole = delay >> 32
			x = line[i+j-int(whole)-2:]
		}
		c, part := &table[uint64(delay)/finePart%phases], float32(int32(delay&(finePart-1)))
		delay += slope
		slope += curve
		y := (*[4]float32)(x)
		x = x[1:]
		out[j] += gain * ((y[0]*(c[2]+part*c[10]) + y[1]*(c[3]+part*c[11])) + (y[2]*(c[4]+part*c[12]) + y[3]*(c[5]+part*c[13])))
	}
}
