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
	// pedalRelease is how long a pedal key takes to fall silent: low notes
	// that stop dead thump.
	pedalRelease = 0.045
	// softSeconds is how long soft events take, see Event.Soft.
	softSeconds = 0.03
)

// bank is the generator bank. Each sine is stored as a loop of a whole number
// of periods, so that a sample costs one load and no rounding ever adds up;
// the loops lie one after the other in one array, each followed by a copy of
// its first samples, so that reading a chunk never wraps. A generator
// is heard in a division only while its gain there is not zero; the others
// merely move on.
type bank struct {
	waves   []float32
	start   [Generators]int
	period  [generators]int32 // length of the loop, at least chunk
	pos     [generators]int32
	voices  [buses]voices
	samples int // length of a gain ramp
	release int // of one that closes a pedal
	soft    int // of a soft one
	steady  [Generators]tone
}

// generators is Generators rounded up to whole kernels.
const generators = (Generators + 7) &^ 7

// buses are the divisions and that of the struck accent.
const (
	buses     = Divisions + 1
	accentBus = Divisions
)

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

func (b *bank) init(rate int, partials float64) {
	b.samples = max(1, int(rampSeconds*float64(rate)))
	b.soft = max(1, int(softSeconds*float64(rate)))
	b.release = max(1, int(pedalRelease*float64(rate)))
	total := 0
	var periods [Generators]int
	for g := range Generators {
		p, n := loop(Frequency(float64(LowestKey+g)), float64(rate))
		times := (chunk + n - 1) / n
		if partials > 0 {
			times = partialsLoop/n + 1
		}
		periods[g], b.period[g] = times*p, int32(times*n)
		b.start[g] = total
		total += times*n + chunk + pad
	}
	b.waves = make([]float32, total)
	for g := range Generators {
		b.fill(g, periods[g], 1)
		if partials > 0 {
			b.colour(g, periods[g], partials)
		}
	}
}

// partialsLoop is the least length in samples of a loop with partials of its
// own; the longer the loop, the closer together the pitches they can have.
const partialsLoop = 32768

// colour adds a second and a third partial a little sharp of the harmonics.
// Whole periods of them fit the loop.
func (b *bank) colour(g, periods int, level float64) {
	for k, stretch := range [2]float64{2.004, 3.011} {
		own := int(math.Round(stretch * float64(periods)))
		if 2*own < int(b.period[g]) {
			b.fill(g, own, level/float64(k+1))
		}
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

// fill adds a sine with a number of periods to a loop.
func (b *bank) fill(g, periods int, level float64) {
	n := int(b.period[g])
	wave := b.waves[b.start[g] : b.start[g]+n+chunk+pad]
	for i := range wave {
		turn := float64(i%n) * float64(periods) / float64(n)
		wave[i] += float32(level * math.Sin(2*math.Pi*(turn-math.Floor(turn))))
	}
}

// reset silences the bank. The generators start at scattered phases, as
// wheels on one shaft do; with equal phases a full chord would begin with all
// of its partials aligned.
func (b *bank) reset() {
	for g := range Generators {
		b.pos[g] = int32(g*7919) % b.period[g]
	}
	for d := range b.voices {
		b.voices[d] = voices{}
	}
}

// add changes the gain a generator is heading for, over the given frames.
func (v *voices) add(g int, gain float32, frames int) {
	now := v.now(g)
	v.target[g] += gain
	if abs(v.target[g]) < silent {
		v.target[g] = 0 // what rounding left of sums that cancel
	}
	v.left[g] = int32(frames)
	v.step[g] = (v.target[g] - now) / float32(frames)
	v.active[g>>6] |= 1 << (g & 63)
}

// silent is a gain no contact has: the smallest is above 1e-4.
const silent = 1e-6

func (v *voices) now(g int) float32 { return v.target[g] - v.step[g]*float32(v.left[g]) }

// render writes the next samples of a bus and reports whether any generator
// sounds in it; if none does, out is left as it was. Each sample is summed in
// the order of the generators, whatever of them is on the move, so the sum
// does not depend on how the frames are cut.
func (b *bank) render(v *voices, out []float32) bool {
	if v.active[0]|v.active[1] == 0 {
		return false
	}
	clear(out)
	list := b.steady[:0]
	for half, set := range v.active {
		for ; set != 0; set &= set - 1 {
			g := half<<6 | bits.TrailingZeros64(set)
			from := b.start[g] + int(b.pos[g])
			if v.left[g] == 0 {
				list = append(list, tone{from, v.target[g]})
				continue
			}
			sumTones(out, b.waves, list)
			list = list[:0]
			fadeTone(out, b.waves[from:from+len(out)], v.target[g], v.step[g], int(v.left[g]))
			v.pass(g, len(out))
		}
	}
	sumTones(out, b.waves, list)
	return true
}

// pass lets n frames of a generator's ramp pass.
func (v *voices) pass(g, n int) {
	v.left[g] = max(0, v.left[g]-int32(n))
	if v.left[g] == 0 && v.target[g] == 0 {
		v.active[g>>6] &^= 1 << (g & 63)
	}
}

// settle ends all ramps at once.
func (v *voices) settle() {
	for half, set := range v.active {
		for ; set != 0; set &= set - 1 {
			v.pass(half<<6|bits.TrailingZeros64(set), math.MaxInt32)
		}
	}
}

// step moves every generator on by n frames, at most chunk, sounding or not.
func (b *bank) step(n int) { turn(b.pos[:], b.period[:], int32(n)) }
