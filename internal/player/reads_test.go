package player

import (
	"testing"
	"time"

	"organbook/internal/arrange"
)

// TestReadsAreWatched compares what is told of the reads with what was read.
func TestReadsAreWatched(t *testing.T) {
	p, take := pulled(t)
	take(1000)
	var list [16]Read
	if n := p.TakeReads(list[:]); n != 0 {
		t.Fatalf("%d reads told before anybody asked for them", n)
	}
	p.WatchReads()
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 60)
	sound := take(1000) // 128 frames at most a read
	began := time.Now()
	n := p.TakeReads(list[:])
	if n != 8 {
		t.Fatalf("%d reads told, want 8", n)
	}
	at := int64(1000)
	for _, r := range list[:n] {
		if r.Frame != at || r.Sample != sound[2*(at-1000)] || r.At.After(began) || r.Took <= 0 {
			t.Errorf("%+v, want frame %d with %g", r, at, sound[2*(at-1000)])
		}
		at += int64(r.Frames)
	}
	if at != 2000 {
		t.Errorf("the reads end at %d", at)
	}
}

// TestTheLongestWaitIsTold keeps the device from asking for a while.
func TestTheLongestWaitIsTold(t *testing.T) {
	p, take := pulled(t)
	take(128)
	if w := p.Status().Waited; w != 0 {
		t.Errorf("waited %v before the second read", w)
	}
	time.Sleep(30 * time.Millisecond)
	take(128)
	if w := p.Status().Waited; w < 30*time.Millisecond || w > 10*time.Second {
		t.Errorf("waited %v", w)
	}
}
