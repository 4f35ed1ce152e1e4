package synth

import (
	"math"
	"math/cmplx"
	"testing"
)

// Tools the tests measure sound with.

// project returns the complex amplitude of the sine at f in x under a
// Blackman-Harris window: its side lobes lie 92 dB down, its main lobe is
// eight bins wide.
func project(x []float32, f, rate float64) complex128 {
	var sum complex128
	area := 0.0
	turn := cmplx.Exp(complex(0, -2*math.Pi*f/rate))
	at := complex(1, 0)
	for i, v := range x {
		if i%1024 == 0 {
			at = cmplx.Exp(complex(0, -2*math.Pi*f/rate*float64(i)))
		}
		w := window(len(x))[i]
		sum += complex(w*float64(v), 0) * at
		at *= turn
		area += w
	}
	return sum * complex(2/area, 0)
}

func amplitude(x []float32, f, rate float64) float64 { return cmplx.Abs(project(x, f, rate)) }

var windows = map[int][]float64{}

func window(n int) []float64 {
	w := windows[n]
	if w == nil {
		w = make([]float64, n)
		for i := range w {
			t := 2 * math.Pi * float64(i) / float64(n)
			w[i] = 0.35875 - 0.48829*math.Cos(t) + 0.14128*math.Cos(2*t) - 0.01168*math.Cos(3*t)
		}
		windows[n] = w
	}
	return w
}

// pitch returns the frequency of the sine near f, from how far its phase
// moves between the two halves of x. A sine more than one bin away is not
// found; its amplitude then shows it.
func pitch(x []float32, f, rate float64) float64 {
	hop := len(x) / 2
	for range 3 {
		a, b := project(x[:hop], f, rate), project(x[hop:2*hop], f, rate)
		astray := cmplx.Phase(b/a) - 2*math.Pi*f/rate*float64(hop)
		f += math.Remainder(astray, 2*math.Pi) / (2 * math.Pi) * rate / float64(hop)
	}
	return f
}

func rms(x []float32) float64 {
	sum := 0.0
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	return math.Sqrt(sum / float64(len(x)))
}

func peakOf(x []float32) (p float64) {
	for _, v := range x {
		p = max(p, math.Abs(float64(v)))
	}
	return p
}

func dB(a float64) float64 { return 20 * math.Log10(a) }

func cents(a, b float64) float64 { return 1200 * math.Log2(a/b) }

// side returns one channel of an interleaved signal.
func side(stereo []float32, channel int) []float32 {
	x := make([]float32, len(stereo)/2)
	for i := range x {
		x[i] = stereo[2*i+channel]
	}
	return x
}

// dry is a configuration whose output follows the bank itself: a speaker that
// stands still and radiates alike to all sides, no click, everything open.
func dry() Config {
	c := DefaultConfig()
	c.Click, c.Master, c.Swell, c.Speed = 0, 1, 1, Stopped
	for _, r := range []*RotorParams{&c.Rotary.Horn, &c.Rotary.Drum} {
		r.Radius, r.Low, r.High = 0, 0, 0
	}
	c.Rotary.Cabinet = 0
	return c
}

// play renders events for some seconds.
func play(t testing.TB, c Config, seconds float64, events ...Event) []float32 {
	t.Helper()
	var out []float32
	err := Offline(Job{
		Config: c, Events: events, Frames: int64(seconds * float64(c.SampleRate)),
		Write: func(block []float32) error { out = append(out, block...); return nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func down(at int64, d Division, key int) Event {
	return Event{Frame: at, Kind: KeyDown, Division: d, Key: uint8(key)}
}

func up(at int64, d Division, key int) Event {
	return Event{Frame: at, Kind: KeyUp, Division: d, Key: uint8(key)}
}

func draw(at int64, d Division, bars ...uint8) Event {
	ev := Event{Frame: at, Kind: SetDrawbars, Division: d}
	copy(ev.Drawbars[:], bars)
	return ev
}

// only draws a single drawbar.
func only(d Division, drawbar int, setting uint8) Event {
	ev := Event{Kind: SetDrawbars, Division: d}
	ev.Drawbars[drawbar] = setting
	return ev
}

var full = []uint8{8, 8, 8, 8, 8, 8, 8, 8, 8}
