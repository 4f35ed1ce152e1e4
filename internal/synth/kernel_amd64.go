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
func butterflyAVX2(a, b *float32, n int)

//go:noescape
func peakAVX2(x *float32, n int) float32

//go:noescape
func glideAVX2(out *float32, n int, line, rows *float32, start, slope, curve float32, from int)

//go:noescape
func turnAVX2(pos, length *int32, count int, n int32)

//go:noescape
func scaleAVX2(x *float32, n int, gain float32)

//go:noescape
func saturateAVX2(x *float32, n int, before, after float32)
