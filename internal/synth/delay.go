package synth

import "math"

// Reading a delay line between its samples: eight samples under coefficients
// that are optimal, in the sense of least squares, for frequencies up to
// wellRead (T. Laakso and others, "Splitting the unit delay", 1996, section
// on general least squares). Against Lagrange interpolation of the same length
// they move the error from the highest generator, 5.9 kHz, to all frequencies
// alike. The coefficients are tabulated for some fractions of a frame and
// interpolated linearly between them.

const (
	taps   = 8
	phases = 128
	// minDelay is the shortest delay a read may ask for, in frames.
	minDelay = taps / 2
	// wellRead is the upper end of the band, as a part of the sample rate.
	wellRead = 7000.0 / 48000
)

// rows holds, for each fraction of a frame, the coefficients and how far they
// are from the next row's.
var rows = func() (t [phases][2 * taps]float32) {
	var now, next [taps]float64
	optimal(0, &now)
	for p := range t {
		optimal(float64(p+1)/phases, &next)
		for j := range taps {
			t[p][j] = float32(now[j])
			t[p][taps+j] = float32(next[j] - now[j])
		}
		now = next
	}
	return t
}()

// optimal writes the coefficients that delay by fraction beyond the fifth of
// the eight samples: the solution of the normal equations, whose elements are
// integrals of cosines over the band.
func optimal(fraction float64, h *[taps]float64) {
	var m [taps][taps + 1]float64
	for j := range taps {
		for k := range taps {
			m[j][k] = bandIntegral(float64(j - k))
		}
		m[j][taps] = bandIntegral(float64(j-taps/2) + fraction)
	}
	solve(&m)
	for j := range taps {
		h[j] = m[j][taps]
	}
}

// bandIntegral is the integral of cos(w·t) over the band.
func bandIntegral(t float64) float64 {
	const edge = 2 * math.Pi * wellRead
	if t == 0 {
		return edge
	}
	return math.Sin(edge*t) / t
}

// solve brings a matrix with its right-hand side to diagonal form (Gauss and
// Jordan, with the greatest pivot).
func solve(m *[taps][taps + 1]float64) {
	for c := range taps {
		best := c
		for r := c; r < taps; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		m[c], m[best] = m[best], m[c]
		for k := taps; k >= c; k-- {
			m[c][k] /= m[c][c]
		}
		for r := range taps {
			if r == c {
				continue
			}
			f := m[r][c]
			for k := c; k <= taps; k++ {
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

// read writes line as it was at each frame from index i on, delayed; k is the
// first frame's place in the control period. Delays are at least minDelay and
// at most i−minDelay.
func (g glide) read(line []float32, i, k int, out []float32) {
	if vectors && len(out) > 0 {
		glideAVX2(&out[0], len(out), &line[i-taps/2], &rows[0][0], g.start, g.slope, g.curve, k)
		return
	}
	half := g.curve / 2
	for j := range out {
		at := float32(k + j)
		out[j] = readAt(line, i+j, g.start+at*(g.slope+(at-1)*half))
	}
}

// readAt returns line as it was delay frames before index i.
func readAt(line []float32, i int, delay float32) float32 {
	whole := int32(delay)
	phase := (delay - float32(whole)) * phases
	row := int32(phase)
	part := phase - float32(row)
	c := &rows[row&(phases-1)]
	from := i - int(whole) - taps/2
	x := (*[taps]float32)(line[from : from+taps])
	return ((x[0]*(c[0]+part*c[8]) + x[1]*(c[1]+part*c[9])) + (x[2]*(c[2]+part*c[10]) + x[3]*(c[3]+part*c[11]))) +
		((x[4]*(c[4]+part*c[12]) + x[5]*(c[5]+part*c[13])) + (x[6]*(c[6]+part*c[14]) + x[7]*(c[7]+part*c[15])))
}
