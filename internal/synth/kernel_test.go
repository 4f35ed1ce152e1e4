package synth

import (
	"math"
	"math/rand/v2"
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
			convolve(out[:n], noise(r, 2*chunk+pad), noise(r, 24)[:12+n%13])
			return out[:n]
		})
		bothWays(t, "scale", 0, func() []float32 {
			out := noise(seeded(), chunk+pad)
			scale(out[:n], 0.3)
			return out // what follows must be left alone
		})
		bothWays(t, "saturate", 0, func() []float32 {
			out := noise(seeded(), chunk+pad)
			saturate(out[:n], 3, 0.5)
			return out // what follows must be left alone
		})
		bothWays(t, "butterfly", 0, func() []float32 {
			r := seeded()
			a, b := noise(r, chunk+pad), noise(r, chunk+pad)
			butterfly(a[:n], b[:n])
			return append(a[:n:n], b[:n]...)
		})
		bothWays(t, "peak", 0, func() []float32 {
			return []float32{peak(noise(seeded(), n))}
		})
		bothWays(t, "glide", 3e-5, func() []float32 {
			out := make([]float32, chunk+pad)
			through(20, 20.7, 23.1).read(noise(seeded(), 200), 100, n%control, out[:n])
			return out[:n]
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
