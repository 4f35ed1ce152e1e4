package synth

import (
	"math"
	"math/cmplx"
	"testing"
)

// The tests here hold the sound to figures that are written out, so that no
// constant of the code can move without one of them failing.

// TestAccentAgainstADrawbar holds the accent to the drawbar of its footage: the
// same pitch within 0.2 cent, its level at the attack and its fall in decibels,
// and that it sounds from the frame at which the unison drawbar does.
func TestAccentAgainstADrawbar(t *testing.T) {
	const key, from, to = 69, testRate / 20, testRate / 5
	onset := func(x []float32) int {
		for i, v := range x {
			if v != 0 {
				return i
			}
		}
		return -1
	}
	unison := onset(side(play(t, dry(), 1, only(Upper, 2, 8), down(0, Upper, key)), 0))
	for _, c := range []struct {
		accent  Accent
		bar     int     // of the same footage
		hertz   float64 // in equal temperament
		attack  float64 // dB
		seconds float64 // time constant
	}{
		{Accent{Pitch: AccentOctave}, 3, 880, 0, 0.14},
		{Accent{Pitch: AccentOctave, Loud: true}, 3, 880, 5, 0.14},
		{Accent{Pitch: AccentTwelfth, Long: true}, 4, 1318.5102, 0, 0.45},
		{Accent{Pitch: AccentTwelfth, Loud: true, Long: true}, 4, 1318.5102, 5, 0.45},
	} {
		x := accented(t, c.accent, down(0, Upper, key))
		if off := cents(pitch(x[from:to], c.hertz, testRate), c.hertz); math.Abs(off) > 0.2 {
			t.Errorf("%+v: %.2f cent astray", c.accent, off)
		}
		drawn := side(play(t, dry(), 1, only(Upper, c.bar, 8), down(0, Upper, key)), 0)
		fall, area := 0.0, 0.0
		for i, w := range window(to - from) {
			fall += w * math.Exp(-float64(from+i)/testRate/c.seconds)
			area += w
		}
		want := c.attack + dB(fall/area)
		got := dB(amplitude(x[from:to], c.hertz, testRate) / amplitude(drawn[from:to], c.hertz, testRate))
		if math.Abs(got-want) > 0.2 {
			t.Errorf("%+v: %.2f dB against the drawbar from 0.05 to 0.2 s, want %.2f", c.accent, got, want)
		}
		if at := onset(x); at < unison || at > unison+2 {
			t.Errorf("%+v: begins at frame %d, the unison at %d", c.accent, at, unison)
		}
	}
}

// TestSwellTilt holds the pedal to a gain that is even in decibels, 18 closed,
// and a shelf of the first order at 180 Hz that gives back up to 7 dB below.
func TestSwellTilt(t *testing.T) {
	for _, key := range []int{36, 48, 60, 84} {
		hertz := Frequency(float64(key))
		level := func(v float32) float64 {
			c := dry()
			c.Swell = v
			x := side(play(t, c, 1, only(Upper, 2, 8), down(0, Upper, key)), 0)
			return dB(amplitude(x[testRate/5:], hertz, testRate))
		}
		open := level(1)
		for _, v := range []float64{0, 0.3, 0.7} {
			lift := math.Pow(10, 7*(1-v)/20) - 1
			keep := complex(math.Exp(-2*math.Pi*180/testRate), 0)
			low := (1 - keep) / (1 - keep*cmplx.Exp(complex(0, -2*math.Pi*hertz/testRate)))
			shelf := cmplx.Abs(1 + complex(lift, 0)*low)
			if got, want := level(float32(v))-open, -18*(1-v)+dB(shelf); math.Abs(got-want) > 0.05 {
				t.Errorf("key %d, pedal %.1f: %.2f dB, want %.2f", key, v, got, want)
			}
		}
	}
}

// impulse returns the left channel of a room's answer to a tone of 20 ms on
// both sides, without the tone.
func impulse(p RoomParams, hertz float64, seconds int) []float32 {
	var r room
	p.Level = 1
	r.init(testRate)
	r.reset(p, 960)
	n := seconds * testRate
	left, right := make([]float32, n), make([]float32, n)
	for i := range 960 {
		left[i] = 0.3 * float32(math.Sin(2*math.Pi*hertz*float64(i)/testRate))
		right[i] = left[i]
	}
	dry := append([]float32(nil), left[:960]...)
	for at := 0; at < n; at += chunk {
		r.render(left[at:at+chunk], right[at:at+chunk])
		r.flush()
	}
	for i, v := range dry {
		left[i] -= v
	}
	return left
}

// TestRoomSize looks for the first echo: sound at 343 m/s, there and back over
// the shortest of the paths, 0.612 of the mean.
func TestRoomSize(t *testing.T) {
	for _, size := range []float64{4, 9, 20, 30} {
		x := impulse(RoomParams{Size: size, Decay: 1, Damping: 0}, 1000, 1)
		first := 0
		for first < len(x) && abs(x[first]) < 1e-5 {
			first++
		}
		want := 2 * 0.612 * size / 343 * testRate
		if math.Abs(float64(first)-want) > 0.02*want+10 {
			t.Errorf("%g m: the first echo comes after %d frames, want %.0f", size, first, want)
		}
	}
}

// TestRoomDamping measures how much faster high tones die away: each way
// through the room mixes a sample with the one before, 1−d+d·e^(−jω) with half
// the setting as d, and there are as many ways in a second as the mean path
// allows. Tones near each other differ by how they meet the lines' lengths, so
// the fall is that of several.
func TestRoomDamping(t *testing.T) {
	const size, decay = 9, 1.1
	mean := 0.0
	for _, p := range [8]float64{0.612, 0.731, 0.824, 0.939, 1.063, 1.171, 1.286, 1.374} {
		mean += 2 * p * size / 343 / 8
	}
	for _, damping := range []float64{0, 0.3, 0.5, 0.8} {
		got, want := 0.0, 0.0
		tones := []float64{11100, 11500, 12000, 12700, 13100}
		for _, hertz := range tones {
			w, d := 2*math.Pi*hertz/testRate, damping/2
			way := -dB(math.Hypot(1-d+d*math.Cos(w), d*math.Sin(w)))
			fall := 60/decay + way/mean // dB a second
			want += fall
			x := impulse(RoomParams{Size: size, Decay: decay, Damping: damping}, hertz, 2)
			from, to := testRate/10, testRate/10+int(30/fall*testRate)
			got += dB(norm(x[from:])/norm(x[to:])) / (float64(to-from) / testRate)
		}
		n := float64(len(tones))
		t.Logf("damping %.1f: %.1f dB a second, expected %.1f", damping, got/n, want/n)
		if math.Abs(got/want-1) > 0.07 {
			t.Errorf("damping %.1f: %.1f dB a second, want %.1f", damping, got/n, want/n)
		}
	}
}

// norm is the root of the energy.
func norm(x []float32) float64 { return rms(x) * math.Sqrt(float64(len(x))) }
