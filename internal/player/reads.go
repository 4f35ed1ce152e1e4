package player

import (
	"time"

	"organbook/internal/player/ring"
)

// Read is one answer to the device, for those who must know why a recording
// has a gap.
type Read struct {
	// At is when the device asked.
	At time.Time
	// Frame is the first frame of the stream that was given, Frames how many
	// were, and Sample the left sample of the first.
	Frame  int64
	Frames int
	Sample float32
	// Took is how long rendering took.
	Took time.Duration
}

// readsRoom is how many reads may wait for TakeReads: more than ten seconds of
// the shortest ones.
const readsRoom = 4096

// WatchReads begins to keep what the device is given, for TakeReads.
func (p *Player) WatchReads() {
	p.source.watched.CompareAndSwap(nil, ring.New[Read](readsRoom))
}

// TakeReads fills list with the oldest reads not taken yet and returns how
// many. Reads that nobody takes in time are forgotten. Only one goroutine may
// call it.
func (p *Player) TakeReads(list []Read) (n int) {
	w := p.source.watched.Load()
	if w == nil {
		return 0
	}
	for n < len(list) {
		r, ok := w.Take()
		if !ok {
			break
		}
		list[n] = r
		n++
	}
	return n
}
