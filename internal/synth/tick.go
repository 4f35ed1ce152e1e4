package synth

import "math"

// ticker is the metronome: a short decaying sine, higher when accented. It
// joins after the speaker, so that it does not turn with it.
type ticker struct {
	rate            float64
	turn, step      float64 // in radians
	envelope, decay float32
	wait            int     // frames until it sounds
	level           float32 // 0 to maxTick, 1 is usual
}

const (
	tickFrequency   = 1300
	accentFrequency = 1950
	tickSeconds     = 0.012 // time constant
	tickLevel       = 0.25
	maxTick         = 2
)

func (t *ticker) init(rate int) {
	t.rate = float64(rate)
	t.level = 1
	t.decay = float32(math.Exp(-1 / (tickSeconds * t.rate)))
}

func (t *ticker) reset() { t.envelope, t.wait = 0, 0 }

// strike sounds a click, the higher the greater its accent, 0 to 1.
func (t *ticker) strike(accent float64) {
	f := tickFrequency + accent*(accentFrequency-tickFrequency)
	t.wait = driveDelay // as long as the organ takes to come here
	t.turn, t.step, t.envelope = 0, 2*math.Pi*f/t.rate, tickLevel*t.level
}

func (t *ticker) add(left, right []float32) {
	if t.envelope == 0 {
		return
	}
	wait := min(t.wait, len(left))
	t.wait -= wait
	for i := wait; i < len(left) && t.envelope != 0; i++ {
		y := t.envelope * float32(math.Sin(t.turn))
		t.turn += t.step
		t.envelope *= t.decay
		if t.envelope < 1e-6 {
			t.envelope = 0
		}
		left[i] += y
		right[i] += y
	}
}
