package ui

import (
	"testing"
	"time"
)

// playAt runs a pace for some seconds on a machine where the sound takes a
// part of a core and each frame some time, and returns the part of a core used
// at the end.
func playAt(p *pace, sound float64, frame time.Duration) float64 {
	for range 400 {
		p.count(frame+time.Duration(sound*float64(p.between)), p.between)
	}
	return sound + float64(frame)/float64(p.between)
}

func TestPaceKeepsItsShareOfACore(t *testing.T) {
	for name, c := range map[string]struct {
		sound   float64
		frame   time.Duration
		between time.Duration // wanted, 0 for whatever keeps the share
	}{
		"graphics card":       {0.05, time.Millisecond, fastestPace},
		"software, two cores": {0.06, 13 * time.Millisecond, 0},
		"far too slow":        {0.06, 60 * time.Millisecond, slowestPace},
	} {
		p := newPace()
		use := playAt(&p, c.sound, c.frame)
		if c.between != 0 && p.between != c.between {
			t.Errorf("%s: a movement every %v, want %v", name, p.between, c.between)
		}
		if c.between == 0 && (use < share-0.02 || use > share+0.02) {
			t.Errorf("%s: %.2f of a core at %v, want %.2f", name, use, p.between, share)
		}
	}
}

func TestPaceGetsFasterAgain(t *testing.T) {
	p := newPace()
	playAt(&p, 0.06, 40*time.Millisecond)
	playAt(&p, 0.06, time.Millisecond)
	if p.between != fastestPace {
		t.Errorf("when frames are cheap again a movement comes every %v", p.between)
	}
}
