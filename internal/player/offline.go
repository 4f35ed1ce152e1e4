package player

import (
	"organbook/internal/perform"
	"organbook/internal/synth"
)

// Render is a performance to be rendered to a file.
type Render struct {
	Performance *perform.Performance
	// SampleRate in frames a second; 0 is 48000.
	SampleRate int
	// Tail is how many seconds the sound may ring after the end; 0 is 1.
	Tail float64
	// Mute silences layers.
	Mute perform.LayerSet
	// Write receives the sound in order, interleaved left and right; the slice
	// is only valid during the call.
	Write func(stereo []float32) error
	// Progress, if any, is told how many frames are done.
	Progress func(done, total int64)
	// Cancelled, if any, is asked now and then whether to give up.
	Cancelled func() bool

	wheels *synth.Wheels // of the generators, where they are made already
}

// Frames is how many frames Offline will write.
func (r *Render) Frames() int64 {
	tail := r.Tail
	if tail == 0 {
		tail = 1
	}
	return toFrames(r.Performance.Duration+tail, r.rate())
}

func (r *Render) rate() int {
	if r.SampleRate == 0 {
		return sampleRate
	}
	return r.SampleRate
}

// Offline renders as fast as it can, on several processors, with the same
// instrument as live. It fails when Write does, or with synth.ErrCancelled.
// Write, Progress and Cancelled are only called from within it.
func Offline(r Render) error { return offline(r, [synth.Divisions]bool{}) }

// offline renders without the divisions that are silent.
func offline(r Render, silent [synth.Divisions]bool) error {
	c := configured(synth.DefaultConfig(), r.Performance.Tone)
	c.Mute = silent
	c.SampleRate, c.Wheels = r.rate(), r.wheels
	s := newScore(r.Performance, c.SampleRate)
	events := make([]synth.Event, 0, len(s.events))
	for _, n := range s.events {
		if !n.isKey() || !r.Mute.Has(n.layer) {
			events = append(events, n.Event)
		}
	}
	events = append(events, synth.Event{Kind: synth.AllNotesOff, Frame: s.frames})
	return pipeline(synth.Job{
		Config: c, Events: events, Frames: r.Frames(),
		Write: r.Write, Progress: r.Progress, Cancelled: r.Cancelled,
	})
}
