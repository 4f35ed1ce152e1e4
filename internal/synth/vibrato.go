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

// wobble is the vibrato of one division.
type wobble struct {
	rate     float64
	setting  Vibrato
	swing    float64 // of the delay in frames, on its way to that of setting
	ease     float64 // share of the way covered in one control period
	middle   float64 // delay around which it swings
	turn     float64 // of the swing at the end of the period, in revolutions
	from     float64 // swing at its start
	way      glide
	laid     bool // whether way is that of this period
	at       int  // frames of the control period that have passed
	wet, dry ramp
	line     []float32
	history  int
	tail     int // frames until the line is silent
	out      [chunk + pad]float32
}

func (w *wobble) init(rate int) {
	w.rate = float64(rate)
	w.ease = 1 - math.Exp(-control/(0.03*w.rate))
	w.middle = math.Ceil(vibratoSwing[3]*w.rate) + minDelay + 1
	w.history = 2*int(w.middle) + taps
	w.line = make([]float32, w.history+chunk+pad)
}

func (w *wobble) reset(smooth int) {
	clear(w.line)
	w.setting, w.swing, w.from, w.turn, w.at, w.tail, w.laid = NoVibrato, 0, 0, 0, 0, 0, false
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
		w.tail = w.history
	}
	if w.tail <= 0 {
		w.pass(len(x))
		return false
	}
	if !sounding {
		clear(x)
		w.tail -= len(x)
	}
	copy(w.line[w.history:], x)
	if w.wet.idle(0) {
		w.pass(len(x))
	} else {
		w.swingOver(x)
	}
	copy(w.line, w.line[len(x):len(x)+w.history])
	return true
}

func (w *wobble) swingOver(x []float32) {
	out := w.out[:len(x)]
	for i := 0; i < len(x); {
		if w.at == 0 {
			w.begin()
		}
		if !w.laid {
			w.lay()
		}
		n := min(control-w.at, len(x)-i)
		w.way.read(w.line, w.history+i, w.at, out[i:i+n])
		w.at = (w.at + n) % control
		i += n
	}
	w.wet.apply(out)
	w.dry.apply(x)
	mix(x, out, 1)
}

// pass lets n frames pass unheard.
func (w *wobble) pass(n int) {
	w.wet.skip(n)
	w.dry.skip(n)
	for n > 0 {
		if w.at == 0 {
			w.begin()
		}
		k := min(control-w.at, n)
		w.at = (w.at + k) % control
		n -= k
	}
}

// begin starts a control period.
func (w *wobble) begin() {
	depth := 0
	if w.setting != NoVibrato {
		depth = 1 + int(w.setting-1)%3
	}
	w.from = w.swing
	w.swing += (vibratoSwing[depth]*w.rate - w.swing) * w.ease
	w.turn += vibratoRate * control / w.rate
	w.turn -= math.Floor(w.turn)
	w.laid = false
}

// lay finds the delay's way through the control period.
func (w *wobble) lay() {
	step := vibratoRate * control / w.rate
	w.way = through(
		w.middle+w.from*math.Sin(2*math.Pi*(w.turn-step)),
		w.middle+(w.from+w.swing)/2*math.Sin(2*math.Pi*(w.turn-step/2)),
		w.middle+w.swing*math.Sin(2*math.Pi*w.turn))
	w.laid = true
}
