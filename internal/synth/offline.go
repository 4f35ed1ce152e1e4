package synth

import (
	"errors"
	"fmt"
)

// ErrCancelled is returned by Offline when the caller gave up.
var ErrCancelled = errors.New("rendering cancelled")

// offlineBlock is how many frames Offline hands over at a time.
const offlineBlock = 4096

// Job is a score to render without a sound device.
type Job struct {
	Config Config
	// Events ascend by Frame.
	Events []Event
	// Frames is the length of the result.
	Frames int64
	// Write receives the sound in order, interleaved left and right; the
	// slice is only valid during the call. An error ends the rendering.
	Write func(stereo []float32) error
	// Progress, if any, is told how many frames are done after each block.
	Progress func(done, total int64)
	// Cancelled, if any, is asked before each block whether to give up.
	Cancelled func() bool
}

// Offline renders a job as fast as it can. The result is aligned with the
// events: the engine's own latency is taken off.
func Offline(j Job) error {
	var e Engine
	if err := e.Init(j.Config); err != nil {
		return err
	}
	skip := e.Latency()
	block := make([]float32, 2*offlineBlock)
	scratch := make([]Event, 0, 256)
	events := j.Events
	var at int64 // frames rendered, latency included
	for total := j.Frames + int64(skip); at < total; {
		if j.Cancelled != nil && j.Cancelled() {
			return ErrCancelled
		}
		n := min(offlineBlock, total-at)
		scratch, events = Take(scratch[:0], events, at, at+n)
		e.Render(block[:2*n], scratch)
		at += n
		from := min(int64(skip), n)
		skip -= int(from)
		if from == n {
			continue
		}
		if err := j.Write(block[2*from : 2*n]); err != nil {
			return fmt.Errorf("writing sound: %w", err)
		}
		if j.Progress != nil {
			j.Progress(at-int64(e.Latency()), j.Frames)
		}
	}
	return nil
}

// Take appends the events before frame end to block, counted from frame
// begin, and returns the rest.
func Take(block, events []Event, begin, end int64) (taken, rest []Event) {
	i := 0
	for ; i < len(events) && events[i].Frame < end; i++ {
		ev := events[i]
		ev.Frame -= begin
		block = append(block, ev)
	}
	return block, events[i:]
}
