package synth

import "math"

// limiter keeps every sample at or under Ceiling. It looks ahead: the gain at
// a moment is the running minimum of what the next frames will need, released
// slowly and averaged over the same window, so that it has come down all the
// way, without a corner, when the peak arrives. While nothing is near the
// ceiling it is a plain delay.
type limiter struct {
	window  int
	release float64
	pos     int // in the delay
	delay   []float32
	hot     int // frames until the gain is certainly 1 again
	now     int // frames since it became hot
	// minima is a queue of ascending needs with the frame each came at: the
	// front is the least of the window.
	minima      []need
	head, count int
	gain        float64   // double precision, or it would stop short of 1
	past        []float64 // the last gains, to average
	pastPos     int
	sum         float64
}

type need struct {
	at   int
	gain float64
}

const (
	lookAheadSeconds = 0.0015
	releaseSeconds   = 0.1
)

func (l *limiter) init(rate int) {
	l.window = max(2, int(lookAheadSeconds*float64(rate)))
	l.release = 1 - math.Exp(-1/(releaseSeconds*float64(rate)))
	l.delay = make([]float32, 2*l.latency())
	l.minima = make([]need, l.window+1)
	l.past = make([]float64, l.window)
}

func (l *limiter) latency() int { return l.window - 1 }

func (l *limiter) reset() {
	clear(l.delay)
	l.pos, l.hot = 0, 0
}

// render limits left and right into out, interleaved.
func (l *limiter) render(left, right, out []float32) {
	right = right[:len(left)]
	out = out[:2*len(left)]
	for i, a := range left {
		b := right[i]
		gain := float32(1)
		if peak := max(abs(a), abs(b)); peak > Ceiling || l.hot > 0 {
			gain = l.next(peak)
		}
		d := l.delay[l.pos : l.pos+2]
		out[2*i], out[2*i+1] = clip(d[0]*gain), clip(d[1]*gain)
		d[0], d[1] = a, b
		if l.pos += 2; l.pos == len(l.delay) {
			l.pos = 0
		}
	}
}

// next takes the peak of a frame and returns the gain of the frame that
// leaves the delay.
func (l *limiter) next(peak float32) float32 {
	if l.hot == 0 {
		l.heat()
	}
	l.now++
	if peak > Ceiling {
		l.push(need{l.now, Ceiling / float64(peak)})
	}
	least := 1.0
	if l.count > 0 && l.minima[l.head].at <= l.now-l.window {
		l.pop()
	}
	if l.count > 0 {
		least = l.minima[l.head].gain
	}
	l.follow(least)
	l.sum += l.gain - l.past[l.pastPos]
	l.past[l.pastPos] = l.gain
	if l.pastPos++; l.pastPos == l.window {
		l.pastPos = 0
	}
	return float32(l.sum / float64(l.window))
}

// heat begins a stretch of limiting from a gain of 1.
func (l *limiter) heat() {
	l.now, l.head, l.count, l.gain, l.pastPos = 0, 0, 0, 1, 0
	for i := range l.past {
		l.past[i] = 1
	}
	l.sum = float64(l.window)
}

// follow drops at once and rises slowly.
func (l *limiter) follow(least float64) {
	if least <= l.gain {
		l.gain = least
	} else {
		l.gain += (least - l.gain) * l.release
	}
	if least == 1 && l.gain > 0.9999 {
		l.gain = 1
	}
	if l.gain < 1 {
		l.hot = l.window + 1
	} else {
		l.hot--
	}
}

func (l *limiter) push(n need) {
	for l.count > 0 && l.minima[l.at(l.count-1)].gain >= n.gain {
		l.count--
	}
	l.minima[l.at(l.count)] = n
	l.count++
}

func (l *limiter) pop() {
	l.head = l.at(1)
	l.count--
}

func (l *limiter) at(i int) int {
	i += l.head
	if i >= len(l.minima) {
		i -= len(l.minima)
	}
	return i
}

func abs(x float32) float32 { return math.Float32frombits(math.Float32bits(x) &^ (1 << 31)) }

// clip catches what the rounding of the average may leave above the ceiling.
func clip(x float32) float32 { return max(-Ceiling, min(Ceiling, x)) }
