package session

import "organbook/internal/perform"

// counting is the count-in before playing. While it runs the sound's position stays
// below where playing begins; just before it may still be that of what was played
// before.
type counting struct {
	on     bool
	begun  bool    // the position has been below
	from   float64 // where playing begins, in seconds of the performance
	bars   int
	clicks []perform.Click
}

func (s *Session) beginCount(from float64, bars int) {
	s.transport.count = counting{}
	if bars > 0 {
		s.transport.count = counting{on: true, from: from, bars: bars, clicks: s.transport.performance.CountIn(bars, from)}
	}
}

// runs reports whether a position lies in the count-in, which ends with the first
// one that does not.
func (c *counting) runs(seconds float64) bool {
	if c.on && seconds < c.from {
		c.begun = true
		return true
	}
	if c.begun {
		*c = counting{}
	}
	return false
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
