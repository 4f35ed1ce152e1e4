package player

import "time"

// cushion is how long the player's own buffer is: as long as the profile says, but
// at least twice what the device takes at a time, for a device that was kept
// waiting takes that twice in a row, faster than the buffer is filled between. Each
// time the device was kept waiting while something sounded it becomes longer by what
// it was too short, up to a limit: a machine too busy for quick answers shall at
// least play without gaps, but one that was a moment late shall not answer later than
// it need. What is late in silence, as while the window opens, is no gap. After a calm
// time it is halved again, for what kept the device waiting may be over, and keys should
// answer at once. If that was too soon, the next calm has to be twice as long: a
// machine that is busy now and again is not tried for ever.
type cushion struct {
	asked       int // frames, as are the others
	least, most int
	frames      int
	calm        time.Duration
	since       time.Time // the last late read or halving
	halved      bool      // and that was a halving
	fitted      bool
}

// firstCalm and longestCalm bound how long the device has to be served in time
// before the buffer is halved.
const firstCalm, longestCalm = 20 * time.Second, 10 * time.Minute

// first is how long the player's buffer is, in frames, while it is not known what
// the device takes at a time: at most half of its own buffer.
func (p Profile) first(rate int) int {
	return max(p.Buffer, int(toFrames(p.Device.Seconds(), rate)))
}

func newCushion(p Profile, rate int, calm time.Duration, now time.Time) cushion {
	first := p.first(rate)
	return cushion{asked: p.Buffer, least: first, most: max(first, min(4*first, SafeProfile.Buffer)), frames: first, calm: calm, since: now}
}

// fit makes the buffer suit a device that takes so many frames at a time, and
// reports whether it has another length now; 0 is not known. Once it suits, it
// only becomes longer: some devices take now more, now less.
func (c *cushion) fit(period int) (changed bool) {
	least := max(2*period, c.asked)
	if period == 0 || c.fitted && least <= c.least {
		return false
	}
	c.fitted = true
	before := c.frames
	if c.frames == c.least || c.frames < least {
		c.frames = least
	}
	c.least, c.most = least, max(c.most, least)
	return c.frames != before
}

// look takes note of how many frames were missing when the device was kept waiting
// audibly since the last look, 0 if it was not, and reports whether the buffer has
// another length now. It becomes longer at least by what the device takes at a time.
func (c *cushion) look(missing int, now time.Time) (changed bool) {
	before := c.frames
	switch {
	case missing > 0:
		if c.halved {
			c.calm = min(2*c.calm, longestCalm)
		}
		c.frames = min(c.frames+max(missing, c.least/2), c.most)
		c.since, c.halved = now, false
	case c.frames > c.least && now.Sub(c.since) >= c.calm:
		c.frames = max(c.frames/2, c.least)
		c.since, c.halved = now, true
	}
	return c.frames != before
}
