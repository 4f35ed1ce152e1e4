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
	line    [2]tape
	loud    [2][2]float32 // peaks of the last two grains of each line
	release float64
	at      int // frames of the grain that have passed
	needs   [ahead + 1]float64
	held    [ahead]float64 // gains after the release, to average
	from    float64        // gain at the start of the grain that leaves
	to      float64        // and at its end
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

// quarterFilters find the signal between the two middle samples; peakReach is
// how much greater than the samples their results can be. The filters for a
// quarter and three quarters of the way mirror each other, so what they share
// is computed once: even acts on the sums of samples that mirror each other,
// odd on their differences, and even ± odd are the two. half, for the middle,
// acts on the sums, too.
var quarterFilters, peakReach = func() (f quarters, reach float32) {
	quarter, half := betweenFilter(0.25), betweenFilter(0.5)
	for i := range f.even {
		a, b := quarter[i], quarter[peakTaps-1-i]
		f.even[i], f.odd[i], f.half[i] = float32((a+b)/2), float32((a-b)/2), float32(half[i])
	}
	for _, h := range [2][]float64{quarter, half} {
		most := 0.0
		for _, c := range h {
			most += math.Abs(c)
		}
		reach = max(reach, float32(most))
	}
	return f, reach
}()

// quarters are halves of three symmetric filters. quartersAVX2 knows this
// layout.
type quarters struct{ even, odd, half [peakTaps / 2]float32 }

// betweenFilter finds the signal part of the way from the sixth of twelve
// samples to the seventh: a windowed sinc.
func betweenFilter(part float64) []float64 {
	h, sum := make([]float64, peakTaps), 0.0
	for i := range h {
		t := float64(i-peakTaps/2+1) - part
		r := t / (peakTaps / 2)
		h[i] = math.Sin(math.Pi*t) / (math.Pi * t) * bessel(5*math.Sqrt(max(0, 1-r*r)))
		sum += h[i]
	}
	for i := range h {
		h[i] /= sum
	}
	return h
}

func (l *limiter) init(rate int) {
	l.release = 1 - math.Exp(-grain/(releaseSeconds*float64(rate)))
	for c := range l.line {
		l.line[c].init(limiterDelay)
	}
}

func (l *limiter) latency() int { return limiterDelay }

func (l *limiter) reset() {
	for c := range l.line {
		l.line[c].reset()
	}
	l.at, l.from, l.to, l.loud = 0, 1, 1, [2][2]float32{}
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
	from := l.line[0].record(left)
	l.line[1].record(right)
	for i := 0; i < n; {
		k := min(grain-l.at, n-i)
		l.leave(from-limiterDelay+i, out[2*i:2*(i+k)])
		l.at += k
		i += k
		if l.at == grain {
			l.at = 0
			l.plan(from + i)
		}
	}
}

// leave writes frames that have been delayed, from index i of the lines on.
func (l *limiter) leave(i int, out []float32) {
	n := len(out) / 2
	a, b := l.line[0].x[i:i+n], l.line[1].x[i:i+n]
	step := float32((l.to - l.from) / grain)
	emit(out, a, b, float32(l.from), step, l.at)
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
	least := min(need, l.needs[0])
	for i, n := range l.needs[1:] {
		least = min(least, n)
		l.needs[i] = n
	}
	l.needs[ahead] = need
	last := l.held[ahead-1]
	gain := min(least, last+(1-last)*l.release)
	if least == 1 && gain > 0.9999 {
		gain = 1
	}
	sum := 0.0
	for i, h := range l.held[1:] {
		sum += h
		l.held[i] = h
	}
	l.held[ahead-1] = gain
	l.from, l.to = l.to, (sum+gain)/ahead
}

// truePeak is the greatest amplitude, between samples too, of the grain that
// ended peakTaps/2 frames before end.
func (l *limiter) truePeak(end int) (most float32) {
	from := end - grain - peakTaps/2
	for c := range l.line {
		x := l.line[c].x
		l.loud[c] = [2]float32{l.loud[c][1], peak(x[end-grain : end])}
		near := max(l.loud[c][0], l.loud[c][1])
		if near*peakReach <= threshold {
			continue
		}
		most = max(most, near)
		most = max(most, peakBetween(x[from-peakTaps/2+1:], grain))
	}
	return most
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// clip catches what is not a number and what rounding may leave above.
func clip(x float32) float32 {
	if !(x <= Ceiling) {
		return Ceiling
	}
	return max(x, -Ceiling)
}
