package session

import (
	"organbook/internal/perform"
	"organbook/internal/project"
)

// counting is the count-in before playing. While it runs the sound's position stays
// below where playing begins. Until its first click is heard it is still that of what
// was played before.
type counting struct {
	on     bool
	begun  bool          // the position has been below
	from   float64       // where playing begins, in seconds of the performance
	at     project.Ticks // the same on the page
	before float64       // where the sound stood, in seconds
	bars   int
	clicks []perform.Click
}

// beginCount takes note of the count-in of what has just begun to play.
func (s *Session) beginCount(from float64, bars int) {
	s.transport.count = counting{}
	if bars > 0 {
		before, _ := s.sound.Position()
		s.transport.count = counting{on: true, from: from, at: s.transport.resume, before: before, bars: bars,
			clicks: s.transport.performance.CountIn(bars, from)}
	}
}

// runs reports whether a position belongs to the count-in, which ends with the first
// one behind it.
func (c *counting) runs(seconds float64) bool {
	switch {
	case !c.on:
		return false
	case seconds < c.from:
		c.begun = true
		return true
	case c.begun:
		*c = counting{}
		return false
	}
	return seconds == c.before
}

// Counted returns where in the count-in the sound was when Cursor was last asked:
// the bar, -1 for the last one before the music and 0 for what a pick-up leaves of
// its bar, and the felt beat from 1. ok is false outside a count-in.
func (s *Session) Counted() (bar, beat int, ok bool) {
	c := &s.transport.count
	if !s.transport.playing || !c.begun {
		return 0, 0, false
	}
	for i, k := range c.clicks {
		if i > 0 && k.Seconds > s.transport.heard-c.from {
			break
		}
		if beat++; k.Accent {
			bar, beat = bar+1, 1
		}
	}
	return bar - c.bars - 1, beat, true
}
