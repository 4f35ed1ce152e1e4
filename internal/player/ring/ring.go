// Package ring carries values from any number of goroutines or foreign threads
// to one reader without a lock: what a sound thread may read and a keyboard's
// driver may write.
package ring

import "sync/atomic"

// Ring is a bounded queue of many writers and one reader. Neither side waits
// for the other: a full ring refuses, an empty one has nothing. Values of one
// writer keep their order. Make one with New.
//
// Each slot carries a turn. A slot of index i is free for the n-th lap when its
// turn is n·size+i, and holds a value for the reader when its turn is one more.
// A writer claims a position by moving written on, fills the slot and then
// moves the slot's turn; so a reader never sees a value half written.
type Ring[T any] struct {
	slots   []slot[T]
	written atomic.Uint64
	read    uint64 // only the reader's
}

type slot[T any] struct {
	turn  atomic.Uint64
	value T
}

// New returns a ring of the given number of values, at least one.
func New[T any](size int) *Ring[T] {
	r := &Ring[T]{slots: make([]slot[T], max(1, size))}
	for i := range r.slots {
		r.slots[i].turn.Store(2 * uint64(i))
	}
	return r
}

// Put hands a value over; false means that the ring is full and the value was
// not taken. Any goroutine may call it.
func (r *Ring[T]) Put(v T) bool {
	size := uint64(len(r.slots))
	for {
		at := r.written.Load()
		s := &r.slots[at%size]
		switch turn := s.turn.Load(); {
		case turn == 2*at:
			if r.written.CompareAndSwap(at, at+1) {
				s.value = v
				s.turn.Store(2*at + 1)
				return true
			}
		case turn < 2*at:
			return false // the reader has not been here since the last lap
		}
	}
}

// Take returns the oldest value; false means that there is none. Only one
// goroutine may call it at a time.
func (r *Ring[T]) Take() (v T, ok bool) {
	size := uint64(len(r.slots))
	s := &r.slots[r.read%size]
	if s.turn.Load() != 2*r.read+1 {
		return v, false
	}
	v = s.value
	s.turn.Store(2 * (r.read + size))
	r.read++
	return v, true
}
