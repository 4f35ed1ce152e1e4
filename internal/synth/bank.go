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
	*Wheels
	rate    int
	pos     [generators]int32
	before  loops // while other loops fade in
	fade    int   // frames until they have
	voices  [buses]voices
	samples int // length of a gain ramp
	release int // of one that closes a pedal
	soft    int // of a soft one
	steady  [Generators]tone
}

// loops are Wheels that turn.
type loops struct {
	*Wheels
	pos [generators]int32
	out [chunk + pad]float32
}

// Wheels are the loops of all generators. They are never changed once made, so
// that engines may share them.
type Wheels struct {
	waves   []float32
	start   [Generators]int
	period  [generators]int32 // length of the loop, at least chunk
	periods [Generators]int32 // of the generator's own pitch in a loop
	rate    int
}

// NewWheels makes loops for a sample rate, 22050 to 192000, with inharmonic
// partials of an amplitude, 0 to MaxPartials. With partials that takes a tenth
// of a second and 12 MB, so it is done beside the rendering; see SetWheels.
func NewWheels(rate int, partials float64) *Wheels {
	w := &Wheels{rate: rate}
	total := 0
	for g := range Generators {
		p, n := loop(Frequency(float64(LowestKey+g)), float64(rate))
		times := (chunk + n - 1) / n
		if partials > 0 {
			times = partialsLoop/n + 1
		}
		w.periods[g], w.period[g] = int32(times*p), int32(times*n)
		w.start[g] = total
		total += times*n + chunk + pad
	}
	w.waves = make([]float32, total)
	for g := range Generators {
		w.fill(g, int(w.periods[g]), 1)
		if partials > 0 {
			w.colour(g, int(w.periods[g]), partials)
		}
	}
	return w
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

func (b *bank) init(rate int, partials float64, made *Wheels) {
	b.samples = max(1, int(rampSeconds*float64(rate)))
	b.soft = max(1, int(softSeconds*float64(rate)))
	b.release = max(1, int(pedalRelease*float64(rate)))
	if made == nil || made.rate != rate {
		made = NewWheels(rate, partials)
	}
	b.rate, b.Wheels = rate, made
}

// adopt takes other loops. Each generator goes on at the nearest sample of its
// phase.
func (b *bank) adopt(w *Wheels) {
	if w == nil || w.rate != b.rate {
		return
	}
	b.before.Wheels, b.before.pos, b.fade = b.Wheels, b.pos, b.soft
	for g := range Generators {
		_, turn := math.Modf(float64(b.pos[g]) * float64(b.periods[g]) / float64(b.period[g]))
		b.pos[g] = int32(math.Round(turn*float64(w.period[g])/float64(w.periods[g]))) % w.period[g]
	}
	b.Wheels = w
}

// partialsLoop is the least length in samples of a loop with partials of its
// own; the longer the loop, the closer together the pitches they can have.
const partialsLoop = 32768

// colour adds a second and a third partial a little sharp of the harmonics.
// Whole periods of them fit the loop.
func (w *Wheels) colour(g, periods int, level float64) {
	for k, stretch := range [2]float64{2.004, 3.011} {
		own := int(math.Round(stretch * float64(periods)))
		if 2*own < int(w.period[g]) {
			w.fill(g, own, level/float64(k+1))
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
func (w *Wheels) fill(g, periods int, level float64) {
	n := int(w.period[g])
	wave := w.waves[w.start[g] : w.start[g]+n+chunk+pad]
	for i := range wave {
		turn := float64(i%n) * float64(periods) / float64(n)
		wave[i] += float32(level * math.Sin(2*math.Pi*(turn-math.Floor(turn))))
	}
}

// reset silences the bank. The generators start at scattered phases, as
// wheels on one shaft do; with equal phases a full chord would begin with all
// of its partials aligned.
func (b *bank) reset() {
	b.before.Wheels, b.fade = nil, 0
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
	if b.fade == 0 {
		b.sum(b.Wheels, &b.pos, v, out)
		return true
	}
	old, same := b.before.out[:len(out)], *v
	b.sum(b.before.Wheels, &b.before.pos, &same, old)
	b.sum(b.Wheels, &b.pos, v, out)
	for i := range out {
		part := float32(max(0, b.fade-i)) / float32(b.soft)
		out[i] += part * (old[i] - out[i])
	}
	return true
}

// sum is render with some loops at some positions.
func (b *bank) sum(w *Wheels, pos *[generators]int32, v *voices, out []float32) {
	clear(out)
	list := b.steady[:0]
	for half, set := range v.active {
		for ; set != 0; set &= set - 1 {
			g := half<<6 | bits.TrailingZeros64(set)
			from := w.start[g] + int(pos[g])
			if v.left[g] == 0 {
				list = append(list, tone{from, v.target[g]})
				continue
			}
			sumTones(out, w.waves, list)
			list = list[:0]
			fadeTone(out, w.waves[from:from+len(out)], v.target[g], v.step[g], int(v.left[g]))
			v.pass(g, len(out))
		}
	}
	sumTones(out, w.waves, list)
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
func (b *bank) step(n int) {
	turn(b.pos[:], b.period[:], int32(n))
	if b.fade > 0 {
		turn(b.before.pos[:], b.before.period[:], int32(n))
		if b.fade = max(0, b.fade-n); b.fade == 0 {
			b.before.Wheels = nil
		}
	}
}
