package synth

import (
	"math"
	"math/bits"
)

const (
	// Generators is how many sines the bank has.
	Generators = 91
	// LowestKey is the MIDI key whose pitch the first generator has, C1.
	LowestKey = 24
	// maxCents is how far a generator may be from equal temperament.
	maxCents = 0.2
	// rampSeconds is how long a change of gain takes. It softens the edge of a
	// contact without being heard as a fade.
	rampSeconds = 0.002
)

// bank is the generator bank. Each sine is stored as a loop of a whole number
// of periods, so that a sample costs one load and no rounding ever adds up;
// the loops lie one after the other in one array, each followed by a copy of
// its first chunk of samples, so that reading a chunk never wraps. A generator
// is heard in a division only while its gain there is not zero; the others
// merely move on.
type bank struct {
	waves   []float32
	start   [Generators]int
	period  [Generators]int // length of the loop
	pos     [Generators]int
	voices  [Divisions]voices
	samples int // length of a gain ramp
}

// voices are the gains of all generators in one division, as ramps (see ramp
// for the arithmetic). active has one bit a generator that sounds; they are
// always added in ascending order, which makes the sum independent of history.
type voices struct {
	target, step [Generators]float32
	left         [Generators]int32
	active       [2]uint64
}

// Frequency returns the equal-tempered frequency of a MIDI key in hertz, A4
// (key 69) being 440.
func Frequency(key float64) float64 { return 440 * math.Exp2((key-69)/12) }

func (b *bank) init(rate int) {
	b.samples = max(1, int(rampSeconds*float64(rate)))
	total := 0
	var periods [Generators]int
	for g := range Generators {
		periods[g], b.period[g] = loop(Frequency(float64(LowestKey+g)), float64(rate))
		b.start[g] = total
		total += b.period[g] + chunk
	}
	b.waves = make([]float32, total)
	for g := range Generators {
		b.fill(g, periods[g])
	}
}

// loop returns the shortest whole number of periods of f that fits a whole
// number of samples within maxCents.
func loop(f, rate float64) (periods, samples int) {
	for periods = 1; ; periods++ {
		exact := float64(periods) * rate / f
		samples = int(math.Round(exact))
		if math.Abs(1200*math.Log2(exact/float64(samples))) <= maxCents {
			return periods, samples
		}
	}
}

func (b *bank) fill(g, periods int) {
	n := b.period[g]
	wave := b.waves[b.start[g] : b.start[g]+n+chunk]
	for i := range wave {
		turn := float64(i%n) * float64(periods) / float64(n)
		wave[i] = float32(math.Sin(2 * math.Pi * (turn - math.Floor(turn))))
	}
}

// reset silences the bank. The generators start at scattered phases, as
// wheels on one shaft do; with equal phases a full chord would begin with all
// of its partials aligned.
func (b *bank) reset() {
	for g := range b.pos {
		b.pos[g] = g * 7919 % b.period[g]
	}
	for d := range b.voices {
		b.voices[d] = voices{}
	}
}

// add changes the gain a generator is heading for.
func (b *bank) add(d Division, g int, gain float32) {
	v := &b.voices[d]
	now := v.now(g)
	v.target[g] += gain
	if float32(math.Abs(float64(v.target[g]))) < silent {
		v.target[g] = 0 // what rounding left of sums that cancel
	}
	v.left[g] = int32(b.samples)
	v.step[g] = (v.target[g] - now) / float32(b.samples)
	v.active[g>>6] |= 1 << (g & 63)
}

// silent is a gain no contact has: the smallest is above 1e-4.
const silent = 1e-6

func (v *voices) now(g int) float32 { return v.target[g] - v.step[g]*float32(v.left[g]) }

// render writes the next samples of a division and reports whether any
// generator sounds in it; if none does, out is left as it was.
func (b *bank) render(d Division, out []float32) bool {
	v := &b.voices[d]
	if v.active[0]|v.active[1] == 0 {
		return false
	}
	clear(out)
	for half, set := range v.active {
		for ; set != 0; set &= set - 1 {
			b.voice(v, half<<6|bits.TrailingZeros64(set), out)
		}
	}
	return true
}

// voice adds one generator.
func (b *bank) voice(v *voices, g int, out []float32) {
	from := b.start[g] + b.pos[g]
	wave := b.waves[from : from+len(out)]
	if v.left[g] > 0 {
		done := v.ramp(g, out, wave)
		out, wave = out[done:], wave[done:]
	}
	if v.left[g] == 0 && v.target[g] == 0 {
		v.active[g>>6] &^= 1 << (g & 63)
		return
	}
	accumulate(out, wave, v.target[g])
}

// ramp adds the samples during which the gain still moves and returns how
// many they were.
func (v *voices) ramp(g int, out, wave []float32) int {
	n := min(int(v.left[g]), len(out))
	target, step, left := v.target[g], v.step[g], v.left[g]
	wave = wave[:n]
	for i, w := range wave {
		left--
		out[i] += w * (target - step*float32(left))
	}
	v.left[g] = left
	return n
}

// accumulate adds gain·wave to out.
func accumulate(out, wave []float32, gain float32) {
	for len(out) >= 8 && len(wave) >= 8 {
		o, w := (*[8]float32)(out), (*[8]float32)(wave)
		o[0] += gain * w[0]
		o[1] += gain * w[1]
		o[2] += gain * w[2]
		o[3] += gain * w[3]
		o[4] += gain * w[4]
		o[5] += gain * w[5]
		o[6] += gain * w[6]
		o[7] += gain * w[7]
		out, wave = out[8:], wave[8:]
	}
	for i := range out {
		out[i] += gain * wave[i]
	}
}

// step moves every generator on, sounding or not.
func (b *bank) step(n int) {
	for g := range b.pos {
		p := b.pos[g] + n
		for p >= b.period[g] {
			p -= b.period[g]
		}
		b.pos[g] = p
	}
}
