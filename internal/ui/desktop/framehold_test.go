package desktop

import (
	"testing"
	"time"

	"organbook/internal/player"
)

// TestARunOfNotesHoldsOneFrameBack strikes a key every 4 ms: each frame waits for
// one hold and no longer.
func TestARunOfNotesHoldsOneFrameBack(t *testing.T) {
	var h frameHold
	start := time.Now()
	if h.left(start) > 0 {
		t.Error("frames are held before anything was struck")
	}
	for at := time.Duration(0); at < givesWay; at += 4 * time.Millisecond {
		now := start.Add(at)
		if h.hold(now); h.left(now) != givesWay-at {
			t.Errorf("%v after the first, %v are left, want %v", at, h.left(now), givesWay-at)
		}
	}
	end := start.Add(givesWay)
	if h.left(end) > 0 {
		t.Errorf("%v are left after the hold", h.left(end))
	}
	if h.hold(end); h.left(end) != givesWay {
		t.Errorf("a second hold lasts %v, want %v", h.left(end), givesWay)
	}
}

// TestNoFrameIsHeldForNothing with the usual buffers, or without a device.
func TestNoFrameIsHeldForNothing(t *testing.T) {
	p := player.New(player.Options{})
	defer p.Close()
	var h frameHold
	if h.giveWay(p); h.left(time.Now()) > 0 {
		t.Errorf("frames are held back with %+v", p.Status().Buffers)
	}
}
