package synth

import "math"

// Vibrato is a setting of a division's vibrato: a delay that swings. With dry
// signal beside it, the two beat against each other as a chorus.
type Vibrato uint8

// The settings, in the order of project.Vibrato.
const (
	NoVibrato Vibrato = iota
	VibratoLight
	VibratoMedium
	VibratoDeep
	ChorusLight
	ChorusMedium
	ChorusDeep
	lastVibrato = ChorusDeep
)

// vibratoRate is how often the delay swings, in hertz.
const vibratoRate = 6.6

// vibratoSwing is how far the delay swings to either side for each depth, in
// seconds: 6, 12 and 22 cents at vibratoRate.
var vibratoSwing = [4]float64{0, 0.000084, 0.000167, 0.000306}

// swing is the motion all delays share, as the vibrato of one instrument does:
// the sine of its angle at the start, middle and end of each control period of
// a chunk.
type swing struct {
	turn     float64 // at the end of the chunk, in revolutions
	step     float64 // revolutions in a control period
	sin, cos float64 // of half a step
	period   [chunk / control][3]float64
}

func (s *swing) init(rate int) {
	s.step = vibratoRate * control / float64(rate)
	s.sin, s.cos = math.Sincos(math.Pi * s.step)
}

// begin lays out a chunk.
func (s *swing) begin() {
	for i := range s.period {
		a, b := math.Sincos(2 * math.Pi * s.turn)
		m := [2]float64{a*s.cos + b*s.sin, b*s.cos - a*s.sin}
		s.period[i] = [3]float64{a, m[0], m[0]*s.cos + m[1]*s.sin}
		s.turn += s.step
		s.turn -= math.Floor(s.turn)
	}
}

// wobble is the vibrato of one division.
type wobble struct {
	rate     float64
	motion   *swing
	setting  Vibrato
	swing    float64 // of the delay in frames, on its way to that of setting
	ease     float64 // share of the way covered in one control period
	middle   float64 // delay around which it swings
	from     float64 // swing at the start of the period
	way      glide
	laid     bool // whether way is that of this period
	at       int  // frames of the chunk that have passed
	wet, dry ramp
	line     tape
	tail     int // frames until the line is silent
	out      [chunk + pad]float32
}

func (w *wobble) init(rate int, motion *swing) {
	w.rate, w.motion = float64(rate), motion
	w.ease = 1 - math.Exp(-control/(0.03*w.rate))
	w.middle = math.Ceil(vibratoSwing[3]*w.rate) + minDelay + 1
	w.line.init(2*int(w.middle) + taps)
}

func (w *wobble) reset(smooth int) {
	w.line.reset()
	w.setting, w.swing, w.from, w.at, w.tail, w.laid = NoVibrato, 0, 0, 0, 0, false
	w.wet.reset(0, smooth)
	w.dry.reset(1, smooth)
}

func (w *wobble) set(v Vibrato) {
	w.setting = min(v, lastVibrato)
	wet, dry := [3]float32{0, 1, 0.6}, [3]float32{1, 0, 0.6}
	kind := 0
	if v != NoVibrato {
		kind = 1 + int(w.setting-1)/3
	}
	w.wet.to(wet[kind])
	w.dry.to(dry[kind])
}

// render writes the division with its vibrato over x. sounding says whether x
// holds anything; render reports whether it does afterwards.
func (w *wobble) render(x []float32, sounding bool) bool {
	if sounding {
		w.tail = w.line.history
	}
	if w.tail <= 0 {
		w.pass(len(x))
		return false
	}
	if !sounding {
		clear(x)
		w.tail -= len(x)
	}
	from := w.line.record(x)
	if w.wet.idle(0) {
		w.pass(len(x))
	} else {
		w.swingOver(x, from)
	}
	return true
}

// swingOver adds the delayed signal, whose first frame lies at from.
func (w *wobble) swingOver(x []float32, from int) {
	if w.wet.left == 0 && w.dry.left == 0 {
		if w.dry.target == 0 {
			clear(x)
		} else {
			scale(x, w.dry.target)
		}
		w.read(x, from, w.wet.target)
		return
	}
	out := w.out[:len(x)]
	clear(out)
	w.read(out, from, 1)
	w.wet.apply(out)
	w.dry.apply(x)
	mix(x, out, 1)
}

func (w *wobble) read(out []float32, from int, gain float32) {
	for i := 0; i < len(out); {
		n := w.enter(len(out) - i)
		if !w.laid {
			w.lay()
		}
		w.way.add(w.line.x, from+i, w.at%control, out[i:i+n], wide, gain)
		w.leave(n)
		i += n
	}
}

// pass lets n frames pass unheard.
func (w *wobble) pass(n int) {
	w.wet.skip(n)
	w.dry.skip(n)
	for n > 0 {
		k := w.enter(n)
		w.leave(k)
		n -= k
	}
}

// enter begins a control period if one is due, and returns for how many of n
// frames it lasts.
func (w *wobble) enter(n int) int {
	if w.at%control == 0 {
		w.begin()
	}
	return min(control-w.at%control, n)
}

func (w *wobble) leave(n int) { w.at = (w.at + n) % chunk }

// begin starts a control period.
func (w *wobble) begin() {
	depth := 0
	if w.setting != NoVibrato {
		depth = 1 + int(w.setting-1)%3
	}
	w.from = w.swing
	w.swing += (vibratoSwing[depth]*w.rate - w.swing) * w.ease
	w.laid = false
}

// lay finds the delay's way through the control period.
func (w *wobble) lay() {
	s := &w.motion.period[w.at/control]
	w.way = through(
		w.middle+w.from*s[0],
		w.middle+(w.from+w.swing)/2*s[1],
		w.middle+w.swing*s[2])
	w.laid = true
}
