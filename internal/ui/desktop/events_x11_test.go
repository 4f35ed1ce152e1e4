//go:build linux && !android && !wayland

package desktop

import (
	"syscall"
	"testing"
	"time"
)

// screen returns the events of a connection, and what sends one.
func screen(t *testing.T) (e events, send func(), hangUp func()) {
	t.Helper()
	ends, err := syscall.Socketpair(syscall.AF_UNIX, syscall.SOCK_STREAM|syscall.SOCK_NONBLOCK, 0)
	if err != nil {
		t.Fatal(err)
	}
	e, err = eventsFrom(ends[0])
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { e.f.Close() })
	return e, func() {
		if _, err := syscall.Write(ends[1], []byte{1}); err != nil {
			t.Error(err)
		}
	}, func() { syscall.Close(ends[1]) }
}

// taker returns what takes in all that has come, and counts how often it did.
func taker(e events) (take func(), times *int) {
	times = new(int)
	return func() {
		*times++
		e.conn.Read(func(fd uintptr) bool {
			var all [64]byte
			syscall.Read(int(fd), all[:])
			return true
		})
	}, times
}

// TestEventsAreTakenInWhileFramesAreHeld sends two events during a hold: both are
// taken in, and nobody comes back before its end.
func TestEventsAreTakenInWhileFramesAreHeld(t *testing.T) {
	e, send, _ := screen(t)
	take, times := taker(e)
	h := frameHold{until: time.Now().Add(100 * time.Millisecond)}
	go func() {
		for range 2 {
			time.Sleep(20 * time.Millisecond)
			send()
		}
	}()
	e.stay(&h, take)
	if left := h.left(time.Now()); left > 0 {
		t.Errorf("back %v before the hold ends", left)
	}
	if *times != 2 {
		t.Errorf("events were taken in %d times, want 2", *times)
	}
	send()
	if !e.arrived() { // the deadline of the hold is gone
		t.Error("what comes after the hold does not arrive")
	}
}

// TestNothingIsHeldWithoutAHold comes back at once and takes nothing in, and also
// when the screen hangs up during a hold.
func TestNothingIsHeldWithoutAHold(t *testing.T) {
	e, send, hangUp := screen(t)
	take, times := taker(e)
	send()
	e.stay(&frameHold{}, take)
	if *times != 0 {
		t.Error("events were taken in without a hold")
	}
	take()
	hangUp()
	long := frameHold{until: time.Now().Add(time.Hour)}
	if e.stay(&long, take); *times != 1 {
		t.Error("events were taken in from a connection that ended")
	}
}
