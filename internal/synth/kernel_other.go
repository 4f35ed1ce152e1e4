//go:build !amd64 || purego

package synth

// Without kernels the plain loops run; none of these is ever called.

func hasVectors() bool { return false }

func hasWideVectors() bool { return false }

func sumAVX2(out *float32, n int, waves *float32, tones *tone, count int) { panic("no kernel") }

func fadeAVX2(out *float32, n int, wave *float32, target, step float32, left int) {
	panic("no kernel")
}

func mixAVX2(into *float32, n int, from *float32, gain float32) { panic("no kernel") }

func shadeAVX2(out *float32, n int, a, b *float32, ga, stepA, gb, stepB float32, from int) {
	panic("no kernel")
}

func convolveAVX2(out *float32, n int, x, taps *float32, count int) { panic("no kernel") }

func peakAVX2(x *float32, n int) float32 { panic("no kernel") }

func grainPeaksAVX2(most *float32, grains int, x *float32, f *quarters) { panic("no kernel") }

func glideAVX2(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32) {
	panic("no kernel")
}

func turnAVX2(pos, length *int32, count int, n int32) { panic("no kernel") }

func scaleAVX2(x *float32, n int, gain float32) { panic("no kernel") }

func bendAVX2(w, x, y, z *float32, n int, before, after, last float32) { panic("no kernel") }

func midwayAVX2(out *float32, n int, a, b *float32, taps *[quarterTaps / 2]float32) {
	panic("no kernel")
}

func emitAVX2(out *float32, n int, left, right *float32, gain, step float32, from int, ceiling float32) {
	panic("no kernel")
}

func roomAVX2(left, right, sendLeft, sendRight *float32, n int, memory *float32, lines *roomLine) {
	panic("no kernel")
}

func splitAVX2(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock) {
	panic("no kernel")
}

func glideAVX512(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32) {
	panic("no kernel")
}

func splitAVX512(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock) {
	panic("no kernel")
}

func packAVX2(out *byte, samples *float32, n int, full float64) { panic("no kernel") }
