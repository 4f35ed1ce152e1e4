package synth

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestLoopsAreExact checks every generator of the bank against equal
// temperament and its samples against double precision.
func TestLoopsAreExact(t *testing.T) {
	for _, rate := range []int{44100, 48000, 96000} {
		var b bank
		b.init(rate, 0, nil)
		for g := range Generators {
			f := Frequency(float64(LowestKey + g))
			periods, n := loop(f, float64(rate))
			if c := cents(float64(periods)*float64(rate)/float64(n), f); math.Abs(c) > maxCents {
				t.Errorf("%d Hz generator %d: %.3f cents off", rate, g, c)
			}
			var noise float64
			for i := range n + chunk + pad {
				want := math.Sin(2 * math.Pi * float64(periods) * float64(i) / float64(n))
				noise += math.Pow(float64(b.waves[b.start[g]+i])-want, 2)
			}
			if snr := dB(math.Sqrt(0.5 * float64(n+chunk) / noise)); snr < 130 {
				t.Errorf("%d Hz generator %d: %.1f dB above its noise, want 130", rate, g, snr)
			}
		}
	}
}

// TestBankSum compares the sum of all generators with double precision, with
// kernels and without.
func TestBankSum(t *testing.T) {
	defer func(v bool) { vectors = v }(vectors)
	for _, vectors = range []bool{false, hasVectors()} {
		snr := bankSNR()
		t.Logf("kernels %v: %.1f dB", vectors, snr)
		if snr < 130 {
			t.Errorf("kernels %v: the sum lies %.1f dB above its rounding noise, want 130", vectors, snr)
		}
	}
}

// TestCrossoverIsFlat checks that the bands add up to an even level and that
// each falls off at 24 dB an octave.
func TestCrossoverIsFlat(t *testing.T) {
	for _, f := range []float64{50, 200, 400, 800, 1600, 3200, 8000} {
		var c crossover
		c.init(800, 400, 1800, testRate)
		n := 48000
		x, low, high := make([]float32, n), make([]float32, n), make([]float32, n)
		lower, higher := make([]float32, n), make([]float32, n)
		for i := range x {
			x[i] = float32(math.Sin(2 * math.Pi * f * float64(i) / testRate))
		}
		c.split(x, low, lower, high, higher)
		mix(low, lower, 1)
		mix(high, higher, 1)
		l, h := project(low[n/2:], f, testRate), project(high[n/2:], f, testRate)
		if d := dB(cmplx.Abs(l + h)); math.Abs(d) > 0.05 {
			t.Errorf("%g Hz: sum at %.2f dB", f, d)
		}
		warped := math.Tan(math.Pi*f/testRate) / math.Tan(math.Pi*800/testRate)
		if want := -dB(1 + math.Pow(warped, 4)); math.Abs(dB(cmplx.Abs(l))-want) > 0.1 {
			t.Errorf("%g Hz: low band at %.2f dB, want %.2f", f, dB(cmplx.Abs(l)), want)
		}
	}
}

// TestDelayError reads sines at every kind of fraction of a frame.
func TestDelayError(t *testing.T) {
	defer func(v bool) { vectors = v }(vectors)
	for _, vectors = range []bool{false, hasVectors()} {
		for _, hertz := range []float64{50, 1000, 3000, 5000, 5920} {
			worst := delayError(wide, hertz)
			t.Logf("kernels %v, %g Hz: worst error %.1f dB", vectors, hertz, worst)
			if worst > -100 {
				t.Errorf("kernels %v, %g Hz: worst error %.1f dB, want under −100", vectors, hertz, worst)
			}
		}
		// What reaches the drum is under the crossover's fourth-order slope.
		for _, hertz := range []float64{50, 400, 800, 1600, 3000, 5920, 12000} {
			heard := delayError(narrow, hertz) - dB(1+math.Pow(hertz/800, 4))
			t.Logf("kernels %v, %g Hz of the drum: worst error %.1f dB", vectors, hertz, heard)
			if heard > -100 {
				t.Errorf("kernels %v, %g Hz of the drum: worst error %.1f dB, want under −100", vectors, hertz, heard)
			}
		}
	}
}

// TestRotorInertia times how long horn and drum take to cover 95 % of a change
// of speed.
func TestRotorInertia(t *testing.T) {
	p := DefaultRotary()
	for name, rotorParams := range map[string]RotorParams{"horn": p.Horn, "drum": p.Drum} {
		for _, change := range []struct {
			from, to Speed
			seconds  float64
		}{
			{Slow, Fast, rotorParams.Rise}, {Fast, Slow, rotorParams.Fall},
			{Stopped, Fast, rotorParams.Rise}, {Fast, Stopped, rotorParams.Fall},
		} {
			var r rotor
			r.init(testRate, rotorParams, p.Mics, 0, wide)
			r.reset(change.from)
			start := r.speed
			r.set(change.to)
			frames := 0
			for math.Abs(r.speed-start) < 0.95*math.Abs(r.target-start) && frames < 20*testRate {
				r.turnOnly(control)
				frames += control
			}
			if s := float64(frames) / testRate; math.Abs(s-change.seconds) > 0.02*change.seconds {
				t.Errorf("%s speed %d to %d: %.2f s, want %.2f", name, change.from, change.to, s, change.seconds)
			}
			r.turnOnly(20 * testRate)
			if r.speed != r.target {
				t.Errorf("%s speed %d to %d: ends at %g, want %g", name, change.from, change.to, r.speed, r.target)
			}
		}
	}
}

// TestRotorDoppler checks the turning horn's pitch against the physics: the
// greatest deviation is the speed of the horn across the path.
func TestRotorDoppler(t *testing.T) {
	p := DefaultRotary().Horn
	p.Low, p.High = 0, 0
	var r rotor
	r.init(testRate, p, Microphones{Distance: 0.55}, 0, wide)
	r.reset(Fast)
	n := testRate
	x, left, right := make([]float32, n), make([]float32, n), make([]float32, n)
	const f = 2000.0
	none := make([]float32, chunk)
	for i := range x {
		x[i] = float32(math.Sin(2 * math.Pi * f * float64(i) / testRate))
	}
	for at := 0; at < n; at += chunk {
		r.render(none, x[at:at+chunk], left[at:at+chunk], right[at:at+chunk])
	}
	// The horn passes sideways, a source moving at 2π·radius·speed.
	most, least := 0.0, math.Inf(1)
	const piece = 960
	for at := 4800; at+piece < n; at += 120 {
		g := pitch(left[at:at+piece], f, testRate)
		most, least = max(most, g), min(least, g)
	}
	v := 2 * math.Pi * p.Radius * p.Fast
	want := f * v / speedOfSound * math.Sqrt(1-0) // to first order
	if got := (most - least) / 2; math.Abs(got/want-1) > 0.12 {
		t.Errorf("pitch swings by ±%.2f Hz, want about ±%.2f", got, want)
	}
}

// TestRotaryTremoloRate finds the horn's speed in the loudness of a high tone.
func TestRotaryTremoloRate(t *testing.T) {
	for speed, want := range map[Speed]float64{Slow: DefaultRotary().Horn.Slow, Fast: DefaultRotary().Horn.Fast} {
		c := DefaultConfig()
		c.Speed = speed
		out := side(play(t, c, 11, only(Upper, 2, 8), down(0, Upper, 96)), 0)[testRate/2:]
		const piece = 240 // 5 ms
		loud := make([]float32, len(out)/piece)
		mean := 0.0
		for i := range loud {
			loud[i] = float32(rms(out[i*piece : (i+1)*piece]))
			mean += float64(loud[i]) / float64(len(loud))
		}
		for i := range loud {
			loud[i] -= float32(mean)
		}
		rate := float64(testRate) / piece
		got := pitch(loud, want, rate)
		depth := amplitude(loud, got, rate) / mean
		if math.Abs(got-want) > 0.02 || depth < 0.2 {
			t.Errorf("speed %d: loudness moves at %.3f Hz by %.0f %%, want %.3f Hz and at least 20 %%", speed, got, 100*depth, want)
		}
	}
}

// TestMonoSum checks that the two microphones do not cancel each other.
func TestMonoSum(t *testing.T) {
	for _, key := range []int{36, 48, 60, 72, 84, 96} {
		c := DefaultConfig()
		c.Speed = Fast
		out := play(t, c, 3, draw(0, Upper, 8, 8, 8), down(0, Upper, key))
		left, right := side(out, 0)[9600:], side(out, 1)[9600:]
		mono := make([]float32, len(left))
		for i := range mono {
			mono[i] = (left[i] + right[i]) / 2
		}
		apart := math.Sqrt((rms(left)*rms(left) + rms(right)*rms(right)) / 2)
		if loss := dB(rms(mono) / apart); loss < -6 {
			t.Errorf("key %d: the mono sum lies %.1f dB under the sides", key, loss)
		}
		if d := dB(rms(left) / rms(right)); math.Abs(d) > 1.5 {
			t.Errorf("key %d: left and right differ by %.1f dB", key, d)
		}
	}
}

// TestLimiterCeiling drives the limiter with bursts far above the ceiling.
func TestLimiterCeiling(t *testing.T) {
	var l limiter
	l.init(testRate)
	l.reset()
	r := rand.New(rand.NewPCG(9, 9))
	n := 5 * testRate
	left, right, out := make([]float32, n), make([]float32, n), make([]float32, 2*n)
	level := 1.0
	for i := range left {
		if r.IntN(3000) == 0 {
			level = math.Pow(10, r.Float64()*3-1.5)
		}
		left[i] = float32(level * math.Sin(float64(i)*0.05))
		right[i] = float32(level * (2*r.Float64() - 1))
	}
	limitAll(&l, left, right, out)
	clipped := 0
	for i, v := range out {
		if abs(v) > Ceiling {
			t.Fatalf("frame %d: %g", i/2, v)
		}
		if abs(v) == Ceiling {
			clipped++
		}
	}
	if clipped > n/1000 {
		t.Errorf("%d samples lie exactly on the ceiling: the gain comes too late", clipped)
	}
	if peakOf(out[n:]) < 0.5 {
		t.Error("the limiter holds the level down")
	}
}

// TestLimiterLeavesATonesShape limits tones of the feet and the hands by as much as
// a hundredfold, among them the lowest, whose peaks come only once a period: what is
// not the tone itself stays 95 dB under it.
func TestLimiterLeavesATonesShape(t *testing.T) {
	shapes := map[string][]float64{"a sine": {1}, "four partials": {1, 0.4, 0.16, 0.12}, "rising partials": {0.3, 0.5, 1}}
	for name, partials := range shapes {
		for _, key := range []float64{LowestKey, 28, 36, 47, 60, 72, 84} {
			for _, level := range []float64{1.2, 3, 100} {
				var l limiter
				l.init(testRate)
				l.reset()
				n := 2 * testRate
				left, right, out := make([]float32, n), make([]float32, n), make([]float32, 2*n)
				for i := range left {
					for k, a := range partials {
						left[i] += float32(level * a * math.Sin(2*math.Pi*Frequency(key)*float64(k+1)*float64(i)/testRate))
					}
				}
				limitAll(&l, left, right, out)
				got, want := side(out, 0)[testRate:], left[testRate-l.latency():n-l.latency()]
				if bent := unlike(got, want); bent > -95 {
					t.Errorf("%s, key %g, level %g: bent by %.1f dB", name, key, level, bent)
				}
			}
		}
	}
}

// unlike returns how much of x is not want at any level, in decibels.
func unlike(x, want []float32) float64 {
	var both, all, wanted float64
	for i := range x {
		a, b := float64(x[i]), float64(want[i])
		both, all, wanted = both+a*b, all+a*a, wanted+b*b
	}
	return 10 * math.Log10(max(all-both*both/wanted, 1e-30)/all)
}

// TestValley checks the least of the last few values against looking at them all.
func TestValley(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for span := 1; span < 40; span++ {
		var y valley
		y.init(span)
		for range 2 {
			y.reset()
			var all []float64
			for range 500 {
				all = append(all, float64(r.IntN(1+r.IntN(50))))
				if got, want := y.add(all[len(all)-1]), slices.Min(all[max(0, len(all)-span):]); got != want {
					t.Fatalf("the least of %d after %v: %g, want %g", span, all, got, want)
				}
			}
		}
	}
}

// limitAll renders in chunks.
func limitAll(l *limiter, left, right, out []float32) {
	for at := 0; at < len(left); at += chunk {
		end := min(at+chunk, len(left))
		l.render(left[at:end], right[at:end], out[2*at:2*end])
	}
}

// TestLimiterIsTransparent checks that what never nears the ceiling passes
// unchanged, also after a loud moment.
func TestLimiterIsTransparent(t *testing.T) {
	var l limiter
	l.init(testRate)
	l.reset()
	n := 4 * testRate
	left, right, out := make([]float32, n), make([]float32, n), make([]float32, 2*n)
	for i := range left {
		left[i] = float32(0.9 * math.Sin(float64(i)*0.01))
		right[i] = -left[i] / 2
	}
	left[testRate] = 4
	limitAll(&l, left, right, out)
	for _, i := range []int{100, testRate - 200, 3 * testRate, n - 1} {
		if got, want := out[2*i], left[i-l.latency()]; got != want {
			t.Errorf("frame %d: %g, want %g", i, got, want)
		}
	}
	if got := out[2*(testRate+l.latency())]; got < 0.95*Ceiling {
		t.Errorf("the loud sample leaves at %g, want close to the ceiling", got)
	}
}

// TestRotorPathIsContinuous checks that each control period ends where the
// next one begins.
func TestRotorPathIsContinuous(t *testing.T) {
	p := DefaultRotary().Horn
	var r rotor
	r.init(testRate, p, DefaultRotary().Mics, 0, wide)
	r.reset(Fast)
	var worst float64
	for range 3 * testRate / control {
		r.turnOnly(control)
		var ended [2]float32
		for m := range r.mic {
			w := r.mic[m].way
			ended[m] = w.start + control*(w.slope+(control-1)*w.curve/2)
		}
		r.begin()
		for m := range r.mic {
			worst = max(worst, math.Abs(float64(ended[m]-r.mic[m].way.start)))
		}
	}
	t.Logf("greatest jump %.6f frames", worst)
	if worst > 1e-4 {
		t.Errorf("the path jumps by %.6f frames", worst)
	}
}

// TestContactsMoveInTime presses and releases chords and checks every contact
// at every frame against its own delay.
func TestContactsMoveInTime(t *testing.T) {
	var c contacts
	var b bank
	var clicks [Divisions]clicker
	b.init(testRate, 0, nil)
	c.init(testRate)
	c.reset()
	keys := []int{36, 41, 60, 64, 67, 96}
	for now := range int64(1200) {
		for i, key := range keys {
			if now == int64(10*i) {
				c.press(Upper, key, now)
			}
			if now == int64(600+7*i) {
				c.release(Upper, key, now)
			}
		}
		c.advance(now, 1, &b, &clicks)
		for i, key := range keys {
			for bar := range 9 {
				d := c.delay(Upper, key, bar)
				want := now >= int64(10*i)+d && now < int64(600+7*i)+d
				if c.closed[Upper][key][bar] != want {
					t.Fatalf("frame %d key %d contact %d: closed %v, want %v", now, key, bar, !want, want)
				}
			}
		}
	}
	if last := c.delay(Upper, 60, 0); last > int64(contactSpread*testRate)+c.grid {
		t.Errorf("a contact closes %d frames late", last)
	}
}
