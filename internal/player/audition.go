package player

import "organbook/internal/synth"

// audition holds the keys of a block that is sounded by hand. A new block
// takes the place of the old one at the same frame: keys they share go on
// sounding. The same block again is let go first, for long enough to be heard
// as a new attack.
type audition struct {
	keys  [maxAudition]Key
	count int
	gap   int64 // frames until the keys go down
	left  int64 // frames until they come up; forever when sounding for ever
	down  bool
}

const (
	// repeatGap is how long the same block is let go before it sounds again,
	// as a share of a second: long enough for its contacts to open, and short
	// enough to answer at once.
	repeatGap = 160
	forever   = int64(1) << 62
)

func (a *audition) begin(t *transport, c *command) {
	again := a.down && a.same(c)
	a.end(t)
	if !t.playing {
		for _, ev := range c.events[:c.settings] {
			t.emit(ev)
		}
	}
	a.keys, a.count, a.left = c.keys, c.count, c.frames
	if a.count == 0 {
		return
	}
	if again {
		a.gap = int64(t.engine.SampleRate() / repeatGap)
		return
	}
	a.press(t)
}

func (a *audition) same(c *command) bool {
	return a.count == c.count && a.keys == c.keys
}

func (a *audition) press(t *transport) {
	a.gap, a.down = 0, true
	a.strike(t, synth.KeyDown)
}

// end lets go of the keys.
func (a *audition) end(t *transport) {
	if a.down {
		a.strike(t, synth.KeyUp)
	}
	a.gap, a.down = 0, false
}

func (a *audition) strike(t *transport, k synth.Kind) {
	for _, key := range a.keys[:a.count] {
		t.emit(synth.Event{Kind: k, Division: synth.Division(key.Division), Key: uint8(key.Key & 127)})
	}
}

// until returns for how many of n frames nothing about the audition changes.
func (a *audition) until(n int64) int64 {
	switch {
	case a.gap > 0:
		return min(n, a.gap)
	case a.down:
		return min(n, a.left)
	}
	return n
}

func (a *audition) advance(t *transport, n int64) {
	switch {
	case a.gap > 0:
		if a.gap -= n; a.gap <= 0 {
			a.press(t)
		}
	case a.down && a.left != forever:
		if a.left -= n; a.left <= 0 {
			a.end(t)
		}
	}
}
