//go:build !purego

package synth

// hasVectors asks the processor and the system for AVX2 and fused
// multiply-add.
func hasVectors() bool {
	const (
		fma     = 1 << 12
		osxsave = 1 << 27
		avx     = 1 << 28
		avx2    = 1 << 5
		// The system keeps the registers of SSE and AVX apart for each thread.
		kept = 1<<1 | 1<<2
	)
	highest, _, _, _ := cpuid(0, 0)
	if highest < 7 {
		return false
	}
	_, _, c, _ := cpuid(1, 0)
	if c&(fma|osxsave|avx) != fma|osxsave|avx || xgetbv()&kept != kept {
		return false
	}
	_, b, _, _ := cpuid(7, 0)
	return b&avx2 != 0
}

// hasWideVectors asks for AVX-512, with its registers kept by the system.
func hasWideVectors() bool {
	const (
		avx512f = 1 << 16
		bmi2    = 1 << 8
		kept    = 7 << 5 // mask registers, and both parts of the wide ones
	)
	if !hasVectors() || xgetbv()&kept != kept {
		return false
	}
	_, b, _, _ := cpuid(7, 0)
	return b&avx512f != 0 && b&bmi2 != 0
}

// Implemented in kernel_amd64.s.

func cpuid(leaf, sub uint32) (a, b, c, d uint32)

func xgetbv() uint32

//go:noescape
func sumAVX2(out *float32, n int, waves *float32, tones *tone, count int)

//go:noescape
func fadeAVX2(out *float32, n int, wave *float32, target, step float32, left int)

//go:noescape
func mixAVX2(into *float32, n int, from *float32, gain float32)

//go:noescape
func shadeAVX2(out *float32, n int, a, b *float32, ga, stepA, gb, stepB float32, from int)

//go:noescape
func convolveAVX2(out *float32, n int, x, taps *float32, count int)

//go:noescape
func peakAVX2(x *float32, n int) float32

//go:noescape
func grainPeaksAVX2(most *float32, grains int, x *float32, f *quarters)

//go:noescape
func glideAVX2(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32)

//go:noescape
func turnAVX2(pos, length *int32, count int, n int32)

//go:noescape
func scaleAVX2(x *float32, n int, gain float32)

//go:noescape
func bendAVX2(w, x, y, z *float32, n int, before, after, last float32)

//go:noescape
func midwayAVX2(out *float32, n int, a, b *float32, taps *[quarterTaps / 2]float32)

//go:noescape
func emitAVX2(out *float32, n int, left, right *float32, gain, step float32, from int, ceiling float32)

//go:noescape
func roomAVX2(left, right, sendLeft, sendRight *float32, n int, memory *float32, lines *roomLine)

//go:noescape
func splitAVX2(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock)

//go:noescape
func glideAVX512(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32)

//go:noescape
func splitAVX512(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock)

//go:noescape
func packAVX2(out *byte, samples *float32, n int, full float64)
