package player

import (
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"organbook/internal/arrange"
)

// TestRenderingsGiveWay counts how many pieces of renderings are worked on at a
// time, while something sounds and while nothing does.
func TestRenderingsGiveWay(t *testing.T) {
	const workers, turns = 6, 2
	for _, sounding := range []bool{false, true} {
		p := newPrecedence(turns)
		if sounding {
			p.sound()
		}
		var all sync.WaitGroup
		var now, most atomic.Int32
		met := make(chan struct{})
		for range workers {
			all.Go(func() {
				p.work(func() {
					n := now.Add(1)
					if n == workers {
						close(met)
					}
					for m := most.Load(); n > m && !most.CompareAndSwap(m, n); m = most.Load() {
					}
					select {
					case <-met:
					case <-time.After(20 * time.Millisecond):
					}
					now.Add(-1)
				})
			})
		}
		all.Wait()
		want := int32(workers)
		if sounding {
			want = turns
		}
		if most.Load() != want {
			t.Errorf("something sounds: %v; %d pieces at a time, want %d", sounding, most.Load(), want)
		}
	}
}

// TestWhatSoundsIsNoticed by the renderings, and silence is not.
func TestWhatSoundsIsNoticed(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	take(second / 10)
	liveFirst.sounding.Store(0)
	take(second / 10)
	if liveFirst.asked() {
		t.Error("renderings give way to silence")
	}
	p.LiveKey(arrange.Upper, 60, true)
	take(second / 10)
	if !liveFirst.asked() {
		t.Error("renderings do not give way to a key")
	}
	liveFirst.began = liveFirst.began.Add(-giveWay)
	if liveFirst.asked() {
		t.Error("renderings still give way a second after the last sound")
	}
}
