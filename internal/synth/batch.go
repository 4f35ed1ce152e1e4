package synth

// Batch is some frames on their way through the stages of an Engine. The zero
// value is ready; it keeps its memory from use to use.
type Batch struct {
	// Events act within the frames and ascend by Frame, counted from the first.
	Events []Event
	// Stereo is as long as the frames of the batch, left and right interleaved.
	Stereo []float32
	strips []strip
}

// Stages are the engine taken apart. Every batch must pass all of them in
// order, and each stage take the batches in order; then Stereo holds, to the
// bit, what Render would have written. A stage shares nothing with the others
// but the batch it is given, so all may work at the same time, each on another
// batch. They leave the allocation of strips to the first pass of a batch.
func (e *Engine) Stages() [3]func(*Batch) {
	return [3]func(*Batch){e.console.pass, e.tower.pass, e.hall.pass}
}

func (c *console) pass(b *Batch) {
	b.strips = b.strips[:0]
	events := b.Events
	for at, frames := int64(0), int64(len(b.Stereo)/2); at < frames; {
		s := b.next()
		s.events, events = s.cut(at, frames, c.frame, events)
		for i := range s.events {
			c.apply(&s.events[i])
		}
		c.render(s)
		at += int64(s.frames)
	}
}

func (t *tower) pass(b *Batch) {
	for i := range b.strips {
		s := &b.strips[i]
		for k := range s.events {
			t.apply(&s.events[k])
		}
		t.render(s)
	}
}

func (h *hall) pass(b *Batch) {
	out := b.Stereo
	for i := range b.strips {
		s := &b.strips[i]
		for k := range s.events {
			h.apply(&s.events[k])
		}
		h.render(s, out)
		out = out[2*s.frames:]
	}
}

// next is one more strip. What it held before is written over.
func (b *Batch) next() *strip {
	n := len(b.strips)
	if n == cap(b.strips) {
		more := make([]strip, n, n+n/2+len(b.Stereo)/2/chunk+2)
		copy(more, b.strips)
		b.strips = more
	}
	b.strips = b.strips[:n+1]
	return &b.strips[n]
}
