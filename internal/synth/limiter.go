package synth

import "math"

// limiter keeps the true peak, which may lie between samples, under Ceiling.
// It looks ahead in steps of grain frames: for each grain of its input it
// finds the gain that the grain needs; the gain at the border of two grains is
// the least that the next few need, released slowly and averaged, and in
// between it moves in a straight line. So it has come down all the way,
// without a step, when the peak arrives. While nothing is near the ceiling it
// is a plain delay.
type limiter struct {
	line    [2][]float32 // input, oldest first
	release float64
	at      int // frames of the grain that have passed
	needs   [ahead + 1]float64
	held    [ahead]float64 // gains after the release, to average
	from    float64        // gain at the start of the grain that leaves
	to      float64        // and at its end
	between [chunk + pad]float32
}

const (
	grain = 16
	// ahead is how many grains the gain is averaged over. A border between two
	// grains must suit both, and what is measured of a grain overlaps the next
	// one; so each average looks at two grains more.
	ahead = 4
	// limiterDelay makes the last gain that is averaged look at all of the
	// grain that leaves.
	limiterDelay   = (ahead + 2) * grain
	releaseSeconds = 0.1
	// threshold leaves room for peaks that fall between the points at which
	// the true peak is looked for: −0.45 dBFS.
	threshold = 0.9495
	// peakTaps is the length of the filters that find the quarter points
	// between samples.
	peakTaps = 12
)

// quarterFilters find the signal a quarter, a half and three quarters of the
// way between the two middle samples; peakReach is how much greater than the
// samples their results can be.
var quarterFilters, peakReach = func() (f [3][]float32, reach float32) {
	for q := range f {
		taps, sum, most := make([]float64, peakTaps), 0.0, 0.0
		for i := range taps {
			t := float64(i-peakTaps/2+1) - float64(q+1)/4
			r := t / (peakTaps / 2)
			taps[i] = math.Sin(math.Pi*t) / (math.Pi * t) * bessel(5*math.Sqrt(max(0, 1-r*r)))
			sum += taps[i]
		}
		for _, c := range taps {
			f[q] = append(f[q], float32(c/sum))
			most += math.Abs(c / sum)
		}
		reach = max(reach, float32(most))
	}
	return f, reach
}()

func (l *limiter) init(rate int) {
	l.release = 1 - math.Exp(-grain/(releaseSeconds*float64(rate)))
	for c := range l.line {
		l.line[c] = make([]float32, limiterDelay+chunk+pad)
	}
}

func (l *limiter) latency() int { return limiterDelay }

func (l *limiter) reset() {
	for c := range l.line {
		clear(l.line[c])
	}
	l.at, l.from, l.to = 0, 1, 1
	for i := range l.needs {
		l.needs[i] = 1
	}
	for i := range l.held {
		l.held[i] = 1
	}
}

// render limits left and right into out, interleaved.
func (l *limiter) render(left, right, out []float32) {
	n := len(left)
	copy(l.line[0][limiterDelay:], left)
	copy(l.line[1][limiterDelay:], right)
	for i := 0; i < n; {
		k := min(grain-l.at, n-i)
		l.leave(i, out[2*i:2*(i+k)])
		l.at += k
		i += k
		if l.at == grain {
			l.at = 0
			l.plan(limiterDelay + i)
		}
	}
	for c := range l.line {
		copy(l.line[c], l.line[c][n:n+limiterDelay])
	}
}

// leave writes frames that have been delayed, from index i of the lines on.
func (l *limiter) leave(i int, out []float32) {
	n := len(out) / 2
	a, b := l.line[0][i:i+n], l.line[1][i:i+n]
	if l.from == 1 && l.to == 1 {
		for k, v := range a {
			out[2*k], out[2*k+1] = clip(v), clip(b[k])
		}
		return
	}
	step := float32((l.to - l.from) / grain)
	for k, v := range a {
		gain := float32(l.from) + step*float32(l.at+k)
		out[2*k], out[2*k+1] = clip(v*gain), clip(b[k]*gain)
	}
}

// plan takes in the grain that has just become complete, up to index end of
// the lines, and lays out the gain of the grain that leaves next. The filters
// reach half their length into the grain after, so what is measured is the
// grain that ended peakTaps/2 frames ago, and a little of its neighbours.
func (l *limiter) plan(end int) {
	need := 1.0
	if p := l.truePeak(end); p > threshold {
		need = threshold / float64(p)
	}
	least := need
	for _, n := range l.needs {
		least = min(least, n)
	}
	copy(l.needs[:], l.needs[1:])
	l.needs[ahead] = need
	last := l.held[ahead-1]
	gain := min(least, last+(1-last)*l.release)
	if least == 1 && gain > 0.9999 {
		gain = 1
	}
	copy(l.held[:], l.held[1:])
	l.held[ahead-1] = gain
	sum := 0.0
	for _, h := range l.held {
		sum += h
	}
	l.from, l.to = l.to, sum/ahead
}

// truePeak is the greatest amplitude, between samples too, of the grain that
// ended peakTaps/2 frames before end.
func (l *limiter) truePeak(end int) (most float32) {
	from := end - grain - peakTaps/2
	for c := range l.line {
		near := peak(l.line[c][end-2*grain : end])
		if near*peakReach <= threshold {
			continue
		}
		most = max(most, near)
		for _, f := range quarterFilters {
			convolve(l.between[:grain], l.line[c][from-peakTaps/2+1:], f)
			most = max(most, peak(l.between[:grain]))
		}
	}
	return most
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// clip catches what is not a number and what rounding may leave above.
func clip(x float32) float32 { return max(-Ceiling, min(Ceiling, x)) }
