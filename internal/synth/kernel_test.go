package synth

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// bothWays runs f with the kernels and in plain Go and compares what they
// return.
func bothWays(t *testing.T, what string, tolerance float64, f func() []float32) {
	t.Helper()
	if !hasVectors() {
		t.Skip("this processor has no AVX2")
	}
	defer func(v bool) { vectors = v }(vectors)
	vectors = true
	fast := f()
	vectors = false
	plain := f()
	if len(fast) != len(plain) || rms(plain) == 0 {
		t.Fatalf("%s: %d samples with kernels, %d without, level %g", what, len(fast), len(plain), rms(plain))
	}
	for i := range fast {
		if d := math.Abs(float64(fast[i] - plain[i])); !(d <= tolerance) {
			t.Fatalf("%s, sample %d: %g with kernels, %g without", what, i, fast[i], plain[i])
		}
	}
}

// TestWideKernels wants the same bits of the wide kernels as of the others.
func TestWideKernels(t *testing.T) {
	if !hasWideVectors() {
		t.Skip("this processor has no AVX-512")
	}
	defer func(w bool) { wideVectors = w }(wideVectors)
	events, end := randomPlaying(22, 300)
	run := func(on bool) []float32 {
		wideVectors = on
		var all []float32
		r := rand.New(rand.NewPCG(5, 5))
		for n := 1; n <= chunk; n++ {
			for _, way := range []glide{through(20, 20.7, 23.1), through(9, 4.2, 5), through(7, 7, 7)} {
				for _, between := range []*interpolator{wide, narrow} {
					out := noise(r, chunk+pad)
					way.add(noise(r, 200), 100, n%control, out[:n], between, 0.7)
					all = append(all, out...) // what follows must be left alone
				}
			}
		}
		return append(all, play(t, DefaultConfig(), float64(end)/testRate, append(everything(), events...)...)...)
	}
	narrower, wider := run(false), run(true)
	for i := range narrower {
		if narrower[i] != wider[i] {
			t.Fatalf("sample %d of %d: %g, wide %g", i, len(narrower), narrower[i], wider[i])
		}
	}
}

func noise(r *rand.Rand, n int) []float32 {
	x := make([]float32, n)
	for i := range x {
		x[i] = 2*r.Float32() - 1
	}
	return x
}

// TestKernels compares each kernel with the plain loop on noise, for every
// length up to a chunk.
func TestKernels(t *testing.T) {
	for n := 1; n <= chunk; n++ {
		seeded := func() *rand.Rand { return rand.New(rand.NewPCG(uint64(n), 1)) }
		bothWays(t, "sum", 1e-6, func() []float32 {
			r := seeded()
			out, waves := noise(r, chunk+pad), noise(r, 4000)
			tones := make([]tone, n)
			for i := range tones {
				tones[i] = tone{r.IntN(3900), 0.1 * r.Float32()}
			}
			sumTones(out[:n], waves, tones)
			return out[:n]
		})
		bothWays(t, "fade", 1e-6, func() []float32 {
			r := seeded()
			out, wave := noise(r, chunk+pad), noise(r, chunk+pad)
			fadeTone(out[:n], wave[:n], 0.7, 0.01, 1+r.IntN(100))
			return out[:n]
		})
		bothWays(t, "mix", 1e-6, func() []float32 {
			r := seeded()
			out := noise(r, chunk+pad)
			mix(out[:n], noise(r, chunk+pad)[:n], 0.3)
			return out // what follows must be left alone
		})
		bothWays(t, "shade", 1e-6, func() []float32 {
			r := seeded()
			out := make([]float32, chunk+pad)
			shade(out[:n], noise(r, chunk+pad), noise(r, chunk+pad), 0.5, 0.001, 0.2, -0.002, 7)
			return out[:n]
		})
		bothWays(t, "convolve", 1e-6, func() []float32 {
			r := seeded()
			out := make([]float32, chunk+pad)
			h := noise(r, 12+n%13&^1)
			for i := range len(h) / 2 {
				h[len(h)-1-i] = h[i]
			}
			convolve(out[:n], noise(r, 2*chunk+pad), h)
			return out[:n]
		})
		bothWays(t, "scale", 0, func() []float32 {
			out := noise(seeded(), chunk+pad)
			scale(out[:n], 0.3)
			return out // what follows must be left alone
		})
		bothWays(t, "bend", 1e-6, func() []float32 {
			var d driver
			d.last = 0.3
			r := seeded()
			w, x, y, z := noise(r, chunk+pad), noise(r, chunk+pad), noise(r, chunk+pad), noise(r, chunk+pad)
			d.bend(w[:n], x[:n], y[:n], z[:n], 3, 0.5)
			return slices.Concat(w[:n], x[:n], y[:n], z[:n], []float32{d.last})
		})
		bothWays(t, "midway", 1e-6, func() []float32 {
			r := seeded()
			out := make([]float32, chunk+pad)
			midway(out[:n], noise(r, chunk+2*pad), noise(r, chunk+2*pad), upQuarter)
			return out[:n]
		})
		bothWays(t, "emit", 1e-6, func() []float32 {
			r := seeded()
			out, left, right := noise(r, 2*chunk), noise(r, chunk), noise(r, chunk)
			left[0], right[n/2] = float32(math.NaN()), float32(math.Inf(-1))
			emit(out[:2*n], left[:n], right[:n], 1.2, 0.01, 3)
			return out // what follows must be left alone
		})
		bothWays(t, "split", 1e-6, func() []float32 {
			var c crossover
			c.init(800, 400, 1800, testRate)
			r := seeded()
			var all []float32
			for range 5 {
				out := [4][]float32{noise(r, chunk), noise(r, chunk), noise(r, chunk), noise(r, chunk)}
				c.split(noise(r, n), out[0], out[1], out[2], out[3])
				for _, band := range out {
					all = append(all, band...) // what follows must be left alone
				}
			}
			return all
		})
		bothWays(t, "room", 2e-6, func() []float32 {
			var m room
			p := DefaultRoom()
			p.Size = 2
			p.Level = 1
			m.init(testRate)
			m.reset(p, 960)
			r := seeded()
			var all []float32
			for i := range 8000 / n { // several times round the rings
				left, right := make([]float32, chunk+pad), make([]float32, chunk+pad)
				if i < 1000/n {
					left, right = noise(r, chunk+pad), noise(r, chunk+pad)
				}
				m.render(left[:n], right[:n])
				all = append(append(all, left[:n]...), right[:n]...)
			}
			return all
		})
		bothWays(t, "peak", 0, func() []float32 {
			return []float32{peak(noise(seeded(), n))}
		})
		bothWays(t, "grains", 1e-6, func() []float32 {
			r := seeded()
			most := noise(r, 1+n/grain+1)
			grainPeaks(most[:1+n/grain], noise(r, 2*chunk+peakTaps))
			return most // what follows must be left alone
		})
		bothWays(t, "glide", 6e-5, func() []float32 {
			out := make([]float32, chunk+pad)
			through(20, 20.7, 23.1).add(noise(seeded(), 200), 100, n%control, out[:n], wide, 0.7)
			through(20, 20.7, 23.1).add(noise(seeded(), 200), 100, n%control, out[:n], narrow, 0.7)
			return out // what follows must be left alone
		})
	}
}

func TestTurn(t *testing.T) {
	if !hasVectors() {
		t.Skip("this processor has no AVX2")
	}
	defer func(v bool) { vectors = v }(vectors)
	var length, a, b [16]int32
	for i := range length {
		length[i] = int32(chunk + 7*i)
	}
	r := rand.New(rand.NewPCG(4, 4))
	for range 1000 {
		n := 1 + r.Int32N(chunk)
		vectors = true
		turn(a[:], length[:], n)
		vectors = false
		turn(b[:], length[:], n)
		for i := range a {
			if a[i] != b[i] || a[i] < 0 || a[i] >= length[i] {
				t.Fatalf("loop of %d: at %d with the kernel, %d without", length[i], a[i], b[i])
			}
		}
	}
}

// everything turns on every stage there is.
func everything() []Event {
	return []Event{
		{Kind: SetVibrato, Division: Upper, Vibrato: ChorusDeep},
		{Kind: SetVibrato, Division: Lower, Vibrato: VibratoMedium},
		{Kind: SetVibrato, Division: Pedal, Vibrato: VibratoLight},
		{Kind: SetAccent, Accent: Accent{Pitch: AccentTwelfth, Loud: true, Long: true}},
		{Kind: SetDrive, Value: 0.5}, {Kind: SetRoom, Value: 0.5},
	}
}

// TestWholeChainBothWays renders wild playing through every stage with and
// without kernels.
func TestWholeChainBothWays(t *testing.T) {
	events, end := randomPlaying(21, 300)
	bothWays(t, "everything on", 2e-4, func() []float32 {
		return play(t, DefaultConfig(), float64(end)/testRate, append(everything(), events...)...)
	})
}
