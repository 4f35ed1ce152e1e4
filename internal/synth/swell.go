package synth

import "math"

// swellRange is how much softer the closed pedal is, in decibels: the box of
// an organ is never silent.
const swellRange = 18

// swellGain is even in decibels over the travel of the pedal.
func swellGain(v float32) float32 {
	return decibels(swellRange * (float64(clamp01(v)) - 1))
}

const (
	// tiltCorner is below which frequency, in hertz, the closing pedal takes
	// less away: the ear loses low tones first as the level falls.
	tiltCorner = 180
	// tiltMost is how much less, in decibels, with the pedal closed.
	tiltMost = 7
)

// expression is the swell pedal: a gain, and a shelf that lifts the bass as
// the gain falls, as equal loudness asks for.
type expression struct {
	gain, lift ramp
	// now, last and the square of keep are the parts of a sample, of the sample
	// before and of the low tones two samples before in the low tones.
	now, last, square float32
	low               [2]float32 // the last, and the one before
	before            float32    // the last sample
}

func (e *expression) init(rate int) {
	keep := math.Exp(-2 * math.Pi * tiltCorner / float64(rate))
	e.now, e.last, e.square = float32(1-keep), float32((1-keep)*keep), float32(keep*keep)
}

func (e *expression) reset(v float32, smooth int) {
	e.gain.reset(swellGain(v), smooth)
	e.lift.reset(tilt(v), smooth)
	e.low, e.before = [2]float32{}, 0
}

func (e *expression) set(v float32) {
	e.gain.to(swellGain(v))
	e.lift.to(tilt(v))
}

// tilt is how much of the low tones is added, for a position of the pedal.
func tilt(v float32) float32 {
	return swellGain(v) * (decibels(tiltMost*(1-float64(clamp01(v)))) - 1)
}

// apply moves x through the pedal. The low tones are those of a filter of first
// order, low = keep·low₋₁ + (1−keep)·x, with its own formula put in for low₋₁:
// then a sample waits for the one before the last, and two are on their way.
func (e *expression) apply(x []float32) {
	a, b, before := e.low[0], e.low[1], e.before
	now, last, square := e.now, e.last, e.square
	gain, lift := e.gain, e.lift
	i := 0
	for ; i < len(x) && gain.left+lift.left > 0; i++ {
		v := x[i]
		a, b, before = square*b+(last*before+now*v), a, v
		x[i] = v*gain.next() + a*lift.next()
	}
	level, more := gain.target, lift.target
	for ; i < len(x); i++ {
		v := x[i]
		a, b, before = square*b+(last*before+now*v), a, v
		x[i] = v*level + a*more
	}
	e.low, e.before, e.gain, e.lift = [2]float32{a, b}, before, gain, lift
}

// rest lets n frames of silence pass.
func (e *expression) rest(n int) {
	e.gain.skip(n)
	e.lift.skip(n)
}

// rings reports whether apply would give anything for silence.
func (e *expression) rings() bool { return e.low != [2]float32{} || e.before != 0 }

// flush ends the tail of the filter, see crossover.flush.
func (e *expression) flush() {
	if abs(e.low[0])+abs(e.low[1])+abs(e.before) < 1e-9 {
		e.low, e.before = [2]float32{}, 0
	}
}
