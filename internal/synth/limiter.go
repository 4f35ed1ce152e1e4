package synth

import (
	"math"
	"math/bits"
)

// limiter keeps the true peak, which may lie between samples, under Ceiling.
// It looks ahead in steps of grain frames: for each grain of its input it
// finds the gain that the grain needs; the gain at the border of two grains is
// the least that the next few and those of the last period of the lowest tone
// need, released slowly and averaged, and in between it moves in a straight
// line. So it has come down all the way, without a step, when the peak arrives,
// and stands still while a tone lasts: a gain that rose between the peaks of a
// tone would bend it. While nothing is near the ceiling it is a plain delay.
type limiter struct {
	line    [2]tape
	peaks   [chunk/grain + 1]float32
	release float64
	at      int // frames of the grain that have passed
	needs   valley
	held    [ahead]float64 // gains after the release, to average
	from    float64        // gain at the start of the grain that leaves
	to      float64        // and at its end
}

const (
	grain = 8
	// ahead is how many grains the gain is averaged over. A border between two
	// grains must suit both, and what is measured of a grain overlaps the next
	// one; so each average looks at two grains more.
	ahead = 4
	// limiterDelay makes the last gain that is averaged look at all of the
	// grain that leaves.
	limiterDelay   = (ahead + 2) * grain
	releaseSeconds = 0.1
	// holdSeconds is a period of the lowest generator: the peaks of its tones
	// may be as far apart.
	holdSeconds = 1 / 32.70
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
	l.needs.init(ahead + 2 + int(math.Ceil(holdSeconds*float64(rate)/grain)))
	for c := range l.line {
		l.line[c].init(limiterDelay)
	}
}

func (l *limiter) latency() int { return limiterDelay }

func (l *limiter) reset() {
	for c := range l.line {
		l.line[c].reset()
	}
	l.at, l.from, l.to = 0, 1, 1
	l.needs.reset()
	for i := range l.held {
		l.held[i] = 1
	}
}

// render limits left and right, at most a chunk, into out, interleaved.
func (l *limiter) render(left, right, out []float32) {
	n := len(left)
	from := l.line[0].record(left)
	l.line[1].record(right)
	peaks := l.truePeaks(from-l.at, (l.at+n)/grain)
	for i := 0; i < n; {
		k := min(grain-l.at, n-i)
		l.leave(from-limiterDelay+i, out[2*i:2*(i+k)])
		l.at += k
		i += k
		if l.at == grain {
			l.at = 0
			l.plan(peaks[0])
			peaks = peaks[1:]
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

// plan takes in the peak of the grain that has just become complete, and lays out
// the gain of the grain that leaves next.
func (l *limiter) plan(peak float32) {
	need := 1.0
	if peak > threshold {
		need = threshold / float64(peak)
	}
	least := l.needs.add(need)
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

// truePeaks are the greatest amplitudes of both lines, between samples too, in
// grains that have become complete, the first of which begins at index from. The
// filters reach half their length into the grain after, so what is measured is
// peakTaps/2 frames before. Of grains that need no limiting none is told.
func (l *limiter) truePeaks(from, grains int) []float32 {
	peaks := l.peaks[:grains]
	clear(peaks)
	for c := range l.line {
		x := l.line[c].x[from-2*grain : from+grains*grain] // all that the filters see
		if grains > 0 && peak(x)*peakReach > threshold {
			grainPeaks(peaks, x[2*grain-peakTaps+1:])
		}
	}
	return peaks
}

// valley is the least of the last few values that were added to it.
type valley struct {
	list        []value // those that none after them is below, in a ring of a power of two
	first, next int     // how many have left it, and have ever come
	now, span   int
}

// value is a value and when it was added.
type value struct {
	v  float64
	at int
}

// init makes it the least of the last span values.
func (y *valley) init(span int) {
	y.span = span
	y.list = make([]value, 1<<bits.Len(uint(span)))
}

func (y *valley) reset() { y.first, y.next, y.now = 0, 0, 0 }

// add adds a value and returns the least.
func (y *valley) add(v float64) float64 {
	for y.next > y.first && y.kept(y.next-1).v >= v {
		y.next--
	}
	*y.kept(y.next) = value{v, y.now}
	y.next++
	if y.kept(y.first).at <= y.now-y.span {
		y.first++
	}
	y.now++
	return y.kept(y.first).v
}

func (y *valley) kept(i int) *value { return &y.list[i&(len(y.list)-1)] }

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// clip catches what is not a number and what rounding may leave above.
func clip(x float32) float32 {
	if !(x <= Ceiling) {
		return Ceiling
	}
	return max(x, -Ceiling)
}
