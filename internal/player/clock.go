package player

import (
	"sync/atomic"
	"time"
)

// timeline tells the caller's side which frame of the score is at a frame of
// the stream. The rendering side notes a moment whenever the two stop moving
// together: at play, stop, seek and at the turn of a loop. Between moments the
// position follows by counting. A moment older than the last few is forgotten,
// long after it was heard.
type timeline struct {
	moments [64]moment
	count   atomic.Uint64
}

// moment is where the score stands at a frame of the stream. version is odd
// while it is being written (a sequence lock).
type moment struct {
	version        atomic.Uint64
	stream, cursor atomic.Int64
	moving         atomic.Bool
}

// mark notes a moment. Only the rendering side calls it.
func (t *timeline) mark(stream, cursor int64, moving bool) {
	n := t.count.Load()
	m := &t.moments[n%uint64(len(t.moments))]
	m.version.Add(1)
	m.stream.Store(stream)
	m.cursor.Store(cursor)
	m.moving.Store(moving)
	m.version.Add(1)
	t.count.Store(n + 1)
}

// at returns the frame of the score at a frame of the stream, and whether the
// score was playing there.
func (t *timeline) at(stream int64) (cursor int64, moving bool) {
	n := t.count.Load()
	for back := uint64(1); back <= n && back < uint64(len(t.moments)); back++ {
		m := &t.moments[(n-back)%uint64(len(t.moments))]
		version := m.version.Load()
		from, cursor, moving := m.stream.Load(), m.cursor.Load(), m.moving.Load()
		if version%2 == 1 || m.version.Load() != version {
			continue
		}
		if from > stream && back < n {
			continue // not heard yet
		}
		if moving {
			cursor += max(0, stream-from)
		}
		return cursor, moving
	}
	return 0, false
}

// smoother turns the position of a device, which moves on by a whole buffer at
// a time, into one that moves evenly: it runs on with the clock and leans
// towards what the device says.
type smoother struct {
	frame float64
	when  time.Time
}

const (
	// lean is the share of the difference that is made good at each look.
	lean = 0.1
	// astray is a difference, in frames, that is a jump and not unevenness.
	astray = 4096
)

func (s *smoother) at(frame int64, now time.Time, rate int) int64 {
	next := s.frame + now.Sub(s.when).Seconds()*float64(rate)
	off := float64(frame) - next
	if s.when.IsZero() || off > astray || off < -astray {
		next = float64(frame)
	} else {
		next = max(s.frame, next+lean*off)
	}
	s.frame, s.when = next, now
	return int64(next)
}
