package desktop

import (
	"time"

	"organbook/internal/player"
)

// givesWay is for how long no frame is begun after something was struck by hand: at
// the shortest buffer the instrument hears of it, and the device and the server pass
// it on, within that time. A frame drawn by software takes a processor, and often
// both, for some 20 ms, and the threads of all three have to wait their turn.
const givesWay = 9 * time.Millisecond

// frameHold keeps frames from being begun for a moment. It belongs to the toolkit's
// goroutine.
type frameHold struct{ until time.Time }

// giveWay holds frames back for what was just struck, where the player's buffers are
// short enough that a frame would be heard, and there is a device at all.
func (h *frameHold) giveWay(p *player.Player) {
	if d := p.Status().Buffers.Device; d > 0 && d < 2*player.ShortestProfile.Device {
		h.hold(time.Now())
	}
}

// hold begins a hold. What is struck during one does not prolong it, for the window
// must not stand still under a run of notes.
func (h *frameHold) hold(now time.Time) {
	if h.left(now) <= 0 {
		h.until = now.Add(givesWay)
	}
}

// left is how long the hold still lasts; not above 0 when there is none.
func (h *frameHold) left(now time.Time) time.Duration { return h.until.Sub(now) }
