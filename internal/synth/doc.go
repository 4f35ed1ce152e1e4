// Package synth is the instrument: a bank of 91 sine generators shared by two
// manuals and a pedalboard, drawbars, contact click, struck accent, vibrato,
// swell, drive, a rotary speaker with inertia in a cabinet, a room and a
// true-peak limiter.
//
// The signal path, left to right:
//
//	keys ▸ contacts ▸ generator gains ▸ bank ▸ division buses ▸ vibrato ▸
//	accent joins ▸ swell ▸ drive ▸ rotary speaker (two microphones) ▸ room ▸
//	master ▸ metronome ▸ limiter
//
// The loops that cost most have AVX2 kernels beside the plain Go ones, see
// kernel.go.
//
// Every stage has Init, Reset and Render. Init takes all the memory a stage
// will ever need; Render neither allocates, locks, starts goroutines nor reads
// a clock, so it may run on a real-time thread. The output depends only on the
// configuration and the events: rendering the same events in blocks of any
// size gives the same samples bit for bit.
//
// The package imports the standard library only and knows nothing of charts.
package synth
