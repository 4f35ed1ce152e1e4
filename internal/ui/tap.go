package ui

import (
	"sync"
	"time"

	"organbook/internal/arrange"
)

// leastTap is how long a key that is clicked or typed sounds at least. A tap may be
// over before the sound's next block begins, and press and release in one block are
// no sound at all; a finger does not come shorter than this either.
const leastTap = 80 * time.Millisecond

// taps lets short taps sound: a release that comes too soon is put off.
// newTaps makes them; they may be used from any goroutine.
type taps struct {
	sync.Mutex
	down  map[tapped]time.Time // keys that sound, and since when
	ends  map[tapped]int       // how many releases of a key were put off
	now   func() time.Time
	after func(time.Duration, func())
}

type tapped struct {
	division arrange.Division
	key      int
}

// newTaps returns taps by the system's clock.
func newTaps() *taps {
	return &taps{down: map[tapped]time.Time{}, ends: map[tapped]int{}, now: time.Now,
		after: func(d time.Duration, do func()) { time.AfterFunc(d, do) }}
}

// press has a key struck; one that a tap before still sounds is released first.
func (t *taps) press(k tapped, strike func(down bool)) {
	t.Lock()
	defer t.Unlock()
	t.ends[k]++ // an end that was put off is not for this stroke
	if _, sounding := t.down[k]; sounding {
		strike(false)
	}
	t.down[k] = t.now()
	strike(true)
}

// release has a key let go: at once, or when it has sounded for leastTap.
func (t *taps) release(k tapped, strike func(down bool)) {
	t.Lock()
	defer t.Unlock()
	since, sounding := t.down[k]
	if !sounding {
		return
	}
	left := leastTap - t.now().Sub(since)
	if left <= 0 {
		t.end(k, strike)
		return
	}
	t.ends[k]++
	n := t.ends[k]
	t.after(left, func() {
		t.Lock()
		defer t.Unlock()
		if t.ends[k] == n {
			t.end(k, strike)
		}
	})
}

func (t *taps) end(k tapped, strike func(down bool)) {
	delete(t.down, k)
	delete(t.ends, k)
	strike(false)
}
