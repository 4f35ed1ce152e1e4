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
	corner     float32
	low        float32
}

func (e *expression) init(rate int) {
	e.corner = float32(1 - math.Exp(-2*math.Pi*tiltCorner/float64(rate)))
}

func (e *expression) reset(v float32, smooth int) {
	e.gain.reset(swellGain(v), smooth)
	e.lift.reset(tilt(v), smooth)
	e.low = 0
}

func (e *expression) set(v float32) {
	e.gain.to(swellGain(v))
	e.lift.to(tilt(v))
}

// tilt is how much of the low tones is added, for a position of the pedal.
func tilt(v float32) float32 {
	return swellGain(v) * (decibels(tiltMost*(1-float64(clamp01(v)))) - 1)
}

// apply moves x through the pedal.
func (e *expression) apply(x []float32) {
	low, corner := e.low, e.corner
	for i, v := range x {
		low += corner * (v - low)
		x[i] = v*e.gain.next() + low*e.lift.next()
	}
	e.low = low
}

// rest lets n frames of silence pass.
func (e *expression) rest(n int) {
	e.gain.skip(n)
	e.lift.skip(n)
}

// rings reports whether apply would give anything for silence.
func (e *expression) rings() bool { return e.low != 0 }

// flush ends the tail of the filter, see crossover.flush.
func (e *expression) flush() {
	if abs(e.low) < 1e-9 {
		e.low = 0
	}
}
