package player

import "organbook/internal/synth"

// batches is how many batches a pipeline has. While each stage works on one,
// and the result of one is written, the others let a stage run ahead of one
// that is held up.
const batches = 4

// pipeline renders a job with each stage of the instrument on a goroutine of
// its own, and hands the result over on that of the caller, in order: it is
// what synth.Offline gives, to the bit. The batches go round: a stage waits for
// the one before it, and the first for batches that have been handed over. All
// goroutines have ended when it returns. It gives way to what sounds live.
func pipeline(j synth.Job) error {
	var r *synth.Rendering
	var err error
	liveFirst.work(func() { r, err = synth.NewRendering(j) }) // which makes waves
	if err != nil {
		return err
	}
	free := make(chan *synth.Batch, batches)
	for range batches {
		free <- new(synth.Batch)
	}
	laid := make(chan *synth.Batch, batches)
	stages := r.Stages()
	go func() {
		defer close(laid)
		for b := range free {
			more := false
			liveFirst.work(func() {
				if more = r.Next(b); more {
					stages[0](b)
				}
			})
			if !more {
				return
			}
			laid <- b
		}
	}()
	done := laid
	for _, stage := range stages[1:] {
		done = follow(done, stage)
	}
	for b := range done {
		if err != nil {
			continue // what is still on its way is dropped
		}
		if liveFirst.work(func() { err = r.Deliver(b) }); err != nil {
			close(free)
			continue
		}
		free <- b
	}
	return err
}

// follow starts a stage that takes batches from one channel and returns the
// channel it hands them to.
func follow(from <-chan *synth.Batch, stage func(*synth.Batch)) chan *synth.Batch {
	to := make(chan *synth.Batch, batches)
	go func() {
		defer close(to)
		for b := range from {
			liveFirst.work(func() { stage(b) })
			to <- b
		}
	}()
	return to
}
