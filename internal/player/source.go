package player

import (
	"encoding/binary"
	"math"
	"sync/atomic"
	"time"
)

// source is the stream of sound as the device reads it: 32-bit floats, little
// endian, left and right in turn.
type source struct {
	transport *transport
	scratch   []float32
	rate      int
	device    time.Duration // length of the device's buffer
	buffer    atomic.Int64  // length of the player's, in frames
	opened    time.Time
	last      atomic.Int64 // time of the last read after opened; 0 is none
	late      atomic.Int64
	longest   atomic.Int64 // duration of the longest read
	busy      atomic.Bool
}

const frameBytes = 8

func (s *source) init(t *transport, rate int, p Profile) {
	s.transport = t
	s.opened = time.Now()
	s.scratch = make([]float32, 2*max(1, p.Read))
	s.rate, s.device = rate, p.Device
	s.buffer.Store(int64(p.Buffer))
}

// Read renders less than asked for when that is more than the profile's Read,
// so that what is rendered is never older than need be. It never fails.
func (s *source) Read(p []byte) (int, error) {
	now := int64(time.Since(s.opened))
	if last := s.last.Swap(now); last != 0 && time.Duration(now-last) > s.patience() {
		s.late.Add(1)
	}
	n := min(len(p)/frameBytes, len(s.scratch)/2)
	out := s.scratch[:2*n]
	s.fill(out)
	for i, v := range out {
		binary.LittleEndian.PutUint32(p[4*i:], math.Float32bits(v))
	}
	if took := int64(time.Since(s.opened)) - now; took > s.longest.Load() {
		s.longest.Store(took) // nobody else stores
	}
	return n * frameBytes, nil
}

// patience is how long the buffers last.
func (s *source) patience() time.Duration {
	return s.device + time.Duration(s.buffer.Load())*time.Second/time.Duration(s.rate)
}

// fill renders, or gives silence in the moment in which the stream passes from
// one device to another and both ask for it.
func (s *source) fill(out []float32) {
	if !s.busy.CompareAndSwap(false, true) {
		clear(out)
		return
	}
	s.transport.render(out)
	s.busy.Store(false)
}
