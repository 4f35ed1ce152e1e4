//go:build !amd64

package synth

// Without kernels the plain loops run; none of these is ever called.

func hasVectors() bool { return false }

func sumAVX2(out *float32, n int, waves *float32, tones *tone, count int) { panic("no kernel") }

func fadeAVX2(out *float32, n int, wave *float32, target, step float32, left int) {
	panic("no kernel")
}

func mixAVX2(into *float32, n int, from *float32, gain float32) { panic("no kernel") }

func shadeAVX2(out *float32, n int, a, b *float32, ga, stepA, gb, stepB float32, from int) {
	panic("no kernel")
}

func convolveAVX2(out *float32, n int, x, taps *float32, count int) { panic("no kernel") }

func butterflyAVX2(a, b *float32, n int) { panic("no kernel") }

func peakAVX2(x *float32, n int) float32 { panic("no kernel") }

func glideAVX2(out *float32, n int, line, rows *float32, start, slope, curve float32, from int) {
	panic("no kernel")
}

func turnAVX2(pos, length *int32, count int, n int32) { panic("no kernel") }

func scaleAVX2(x *float32, n int, gain float32) { panic("no kernel") }

func saturateAVX2(x *float32, n int, before, after float32) { panic("no kernel") }
