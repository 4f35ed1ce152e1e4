package synth

import (
	"errors"
	"fmt"
)

// ErrCancelled is returned by Offline when the caller gave up.
var ErrCancelled = errors.New("rendering cancelled")

// offlineBlock is how many frames a Rendering hands over at a time: enough that
// waking who takes them costs little, and few enough for a second-level cache.
const offlineBlock = 16384

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
	// Cancelled, if any, is asked before each block whether to give up. It,
	// Progress and Write are only called by what delivers.
	Cancelled func() bool
}

// Rendering is a Job on its way: batches are laid out by Next, pass the Stages
// and are handed over by Deliver. What makes the batches, each stage and what
// delivers them may work at the same time, each on another batch, as long as
// each takes them in order.
type Rendering struct {
	engine  Engine
	job     Job
	laid    int64 // frames laid out, the engine's latency included
	done    int64 // frames delivered likewise
	pending []Event
}

// NewRendering prepares a job.
func NewRendering(j Job) (*Rendering, error) {
	r := &Rendering{job: j, pending: j.Events}
	if err := r.engine.Init(j.Config); err != nil {
		return nil, err
	}
	return r, nil
}

// Next lays out the next frames and reports whether there are any.
func (r *Rendering) Next(b *Batch) bool {
	n := min(offlineBlock, r.job.Frames+int64(r.engine.Latency())-r.laid)
	if n <= 0 {
		return false
	}
	if b.Stereo == nil {
		b.Stereo = make([]float32, 2*offlineBlock)
	}
	b.Stereo = b.Stereo[:2*n]
	b.Events, r.pending = Take(b.Events[:0], r.pending, r.laid, r.laid+n)
	r.laid += n
	return true
}

// Stages are those of the job's engine, for each batch to pass.
func (r *Rendering) Stages() [3]func(*Batch) { return r.engine.Stages() }

// Deliver writes a batch that has passed, unless the job is cancelled.
func (r *Rendering) Deliver(b *Batch) error {
	if r.job.Cancelled != nil && r.job.Cancelled() {
		return ErrCancelled
	}
	n := int64(len(b.Stereo) / 2)
	from := min(max(int64(r.engine.Latency())-r.done, 0), n)
	r.done += n
	if from == n {
		return nil
	}
	if err := r.job.Write(b.Stereo[2*from:]); err != nil {
		return fmt.Errorf("writing sound: %w", err)
	}
	if r.job.Progress != nil {
		r.job.Progress(r.done-int64(r.engine.Latency()), r.job.Frames)
	}
	return nil
}

// Offline renders a job as fast as one thread can. The result is aligned with
// the events: the engine's own latency is taken off.
func Offline(j Job) error {
	r, err := NewRendering(j)
	if err != nil {
		return err
	}
	var b Batch
	for r.Next(&b) {
		for _, stage := range r.Stages() {
			stage(&b)
		}
		if err := r.Deliver(&b); err != nil {
			return err
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
