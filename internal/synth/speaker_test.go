package synth

import (
	"math"
	"math/cmplx"
	"testing"
)

// TestBrake stops the turning speaker from either speed at chosen angles.
func TestBrake(t *testing.T) {
	p := DefaultRotary()
	for name, params := range map[string]RotorParams{"horn": p.Horn, "drum": p.Drum} {
		for _, angle := range []float64{0, 0.25, 0.9} {
			for _, from := range []Speed{Slow, Fast} {
				var r rotor
				r.init(testRate, params, p.Mics, angle, wide)
				r.reset(from)
				r.turnOnly(12345)
				r.set(Stopped)
				last := math.Abs(r.speed)
				for range 12 * testRate / control {
					r.turnOnly(control)
					if s := math.Abs(r.speed); s > last+1e-9 && s > creep {
						t.Fatalf("%s gains speed while braked: %g after %g", name, s, last)
					} else {
						last = s
					}
				}
				if off := math.Abs(math.Remainder(r.turn-angle, 1)); r.speed != 0 || off > 2*arrived {
					t.Errorf("%s from speed %d: stands at %.4f with speed %g, want %g", name, from, r.turn, r.speed, angle)
				}
			}
		}
	}
}

// TestMicrophones checks that near microphones hear more of the turning, and
// that the angle moves what is heard when.
func TestMicrophones(t *testing.T) {
	depth := func(m Microphones) (float64, complex128) {
		c := DefaultConfig()
		c.Speed, c.Rotary.Mics, c.Rotary.Cabinet = Fast, m, 0
		out := play(t, c, 3, only(Upper, 2, 8), down(0, Upper, 96))
		var phase [2]complex128
		var most float64
		for ch := range phase {
			x := side(out, ch)[testRate:]
			const piece = 240
			loud := make([]float32, len(x)/piece)
			mean := 0.0
			for i := range loud {
				loud[i] = float32(rms(x[i*piece : (i+1)*piece]))
				mean += float64(loud[i]) / float64(len(loud))
			}
			for i := range loud {
				loud[i] -= float32(mean)
			}
			phase[ch] = project(loud, c.Rotary.Horn.Fast, testRate/piece)
			most = cmplx.Abs(phase[ch]) / mean
		}
		return most, phase[1] / phase[0]
	}
	near, apart := depth(Microphones{Distance: 0.3, Angle: 0.18})
	far, _ := depth(Microphones{Distance: 3, Angle: 0.18})
	_, opposite := depth(Microphones{Distance: 0.8, Angle: 0.25})
	t.Logf("loudness moves by %.0f %% at 0.3 m, %.0f %% at 3 m; %.2f and %.2f of a turn apart",
		100*near, 100*far, cmplx.Phase(apart)/2/math.Pi, cmplx.Phase(opposite)/2/math.Pi)
	if near < 1.15*far {
		t.Errorf("loudness moves by %.0f %% at 0.3 m and %.0f %% at 3 m", 100*near, 100*far)
	}
	if got := math.Abs(cmplx.Phase(apart)) / 2 / math.Pi; math.Abs(got-0.36) > 0.03 {
		t.Errorf("microphones 0.36 of a turn apart hear the horn %.3f apart", got)
	}
	if got := math.Abs(cmplx.Phase(opposite)) / 2 / math.Pi; math.Abs(got-0.5) > 0.03 {
		t.Errorf("opposite microphones hear the horn %.3f apart", got)
	}
}

// TestCabinetReflects sends an impulse to the walls.
func TestCabinetReflects(t *testing.T) {
	var c cabinet
	c.init(testRate, 0.2)
	left, right := make([]float32, 4*chunk), make([]float32, 4*chunk)
	left[0] = 1
	for at := 0; at < len(left); at += chunk {
		c.render(left[at:at+chunk], right[at:at+chunk])
	}
	across, back := 60, 135 // 0.43 and 0.97 m at 343 m/s
	for i := range left {
		wantLeft, wantRight := 0.0, 0.0
		switch i {
		case 0:
			wantLeft = 1
		case across:
			wantRight = 0.2
		case back:
			wantLeft = -0.1
		}
		if math.Abs(float64(left[i])-wantLeft) > 1e-6 || math.Abs(float64(right[i])-wantRight) > 1e-6 {
			t.Errorf("frame %d: %g %g, want %g %g", i, left[i], right[i], wantLeft, wantRight)
		}
	}
}

// TestTruePeak looks between the samples of limited sound, at sixteen times
// the rate.
func TestTruePeak(t *testing.T) {
	loud := func() []float32 {
		c := DefaultConfig()
		c.Swell, c.Master, c.Speed = 1, 1, Fast
		return play(t, c, 3, append(append(sixteen(), everything()...), down(testRate, Upper, 84), down(testRate, Upper, 88))...)
	}
	var l limiter
	l.init(testRate)
	l.reset()
	n := testRate - testRate%chunk
	left, right, tones := make([]float32, n), make([]float32, n), make([]float32, 2*n)
	for i := range left { // sines whose peaks lie between the samples
		left[i] = 2 * float32(math.Sin(2*math.Pi*float64(i)/4+math.Pi/4))
		right[i] = 2 * float32(math.Sin(2*math.Pi*float64(i)*(0.1+0.25*float64(i)/float64(n))))
	}
	limitAll(&l, left, right, tones)
	for name, x := range map[string][]float32{"organ": loud(), "sines": tones} {
		for ch := range 2 {
			most := truePeakOf(side(x, ch))
			t.Logf("%s, channel %d: samples %.3f dBFS, true peak %.3f dBFS", name, ch, dB(peakOf(side(x, ch))), dB(most))
			if dB(most) > -0.3 {
				t.Errorf("%s, channel %d: true peak %.3f dBFS", name, ch, dB(most))
			}
			if dB(most) < -6 {
				t.Errorf("%s, channel %d: true peak %.3f dBFS: held down", name, ch, dB(most))
			}
		}
	}
}

// truePeakOf interpolates at sixteen points between samples with a windowed
// sinc of 64.
func truePeakOf(x []float32) (most float64) {
	const reach, points = 32, 16
	var h [points][2 * reach]float64
	for p := range h {
		for i := range h[p] {
			d := float64(i-reach+1) - float64(p)/points
			w := math.Cos(math.Pi / 2 * d / (reach + 1))
			h[p][i] = w * w
			if d != 0 {
				h[p][i] *= math.Sin(math.Pi*d) / (math.Pi * d)
			}
		}
	}
	for i := 0; i+2*reach < len(x); i++ {
		if near := max(abs(x[i+reach-1]), abs(x[i+reach])); near < 0.4 {
			continue
		}
		for p := range h {
			s := 0.0
			for k, c := range h[p] {
				s += c * float64(x[i+k])
			}
			most = max(most, math.Abs(s))
		}
	}
	return most
}
