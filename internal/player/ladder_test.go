package player

import (
	"testing"
	"time"

	"organbook/internal/arrange"
	"pgregory.net/rapid"
)

// TestLadderFollowsTheMachine up at once while something sounds, and down in
// silence after a calm that becomes longer each time it was too short.
func TestLadderFollowsTheMachine(t *testing.T) {
	if len(rungs) == 1 {
		t.Skip("this system has one connection to the device")
	}
	const ms = time.Millisecond
	began := time.Unix(0, 0)
	l := newLadder(began)
	for _, step := range []struct {
		second float64
		served
		want int
	}{
		{1, served{unheard: 50}, 1}, // the window opens
		{2, served{heard: 1, longest: 12 * ms}, 1},
		{4, served{heard: 1, longest: 12 * ms}, 1}, // not soon enough after the other
		{5.5, served{heard: 1, longest: 12 * ms}, 2},
		{14, served{heard: 9, longest: 40 * ms}, 2}, // there is no longer one
		{40, served{heard: 1}, 2},
		{99, served{quiet: time.Hour}, 2},
		{100, served{quiet: ms}, 2}, // it sounds
		{110, served{quiet: time.Hour}, 1},
		{169, served{quiet: time.Hour}, 1},
		{170, served{quiet: time.Hour}, 0},
		{500, served{quiet: time.Hour}, 0},
		{501, served{heard: 3, longest: 25 * ms}, 2}, // past one that would not do, and that was too soon
		{620, served{quiet: time.Hour}, 2},
		{621, served{quiet: time.Hour}, 1},
		{700, served{unheard: 1, quiet: time.Hour}, 1},
		{819, served{quiet: time.Hour}, 1},
		{820, served{quiet: time.Hour}, 0},
		{821, served{heard: 9, longest: time.Second}, 2},
		{1060, served{quiet: time.Hour}, 2},
		{1061, served{quiet: time.Hour}, 1},
		{1071, served{heard: 1}, 1},
		{1078, served{heard: 1}, 1},
		{1085, served{heard: 1}, 1},
		{1092, served{heard: 1}, 1},
		{1099, served{heard: 1}, 2}, // the fifth within half a minute
		{1100, served{heard: 9, longest: time.Second}, 2},
		{1101, served{heard: 2, playing: true}, 3},
		{1102, served{heard: 2, playing: true}, 3},
		{1103, served{heard: 1, playing: true, quiet: time.Hour}, 3}, // a rest
		{1104, served{quiet: time.Second}, 3},
		{1105, served{quiet: 4 * time.Second}, 2}, // for keys
	} {
		was := l.rung
		changed := l.look(step.served, began.Add(time.Duration(step.second*1e9)))
		if l.rung != step.want || changed != (l.rung != was) {
			t.Fatalf("after %g s it stands on %d (changed %v), want %d", step.second, l.rung, changed, step.want)
		}
	}
}

// TestLadderNeverStepsDownInSound nor soon after a late read, and needs several of
// those to climb.
func TestLadderNeverStepsDownInSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Unix(0, 0)
		l := newLadder(now)
		last := now
		for range 80 {
			now = now.Add(time.Duration(rapid.IntRange(1, 90).Draw(t, "seconds")) * time.Second)
			s := served{quiet: time.Duration(rapid.IntRange(0, 6).Draw(t, "quiet")) * time.Second}
			if rapid.IntRange(0, 3).Draw(t, "late") == 0 {
				s.heard, s.unheard = rapid.IntRange(0, 4).Draw(t, "heard"), rapid.IntRange(0, 4).Draw(t, "unheard")
				s.longest = time.Duration(rapid.IntRange(5, 100).Draw(t, "longest")) * time.Millisecond
			}
			was, calm := l.rung, l.calm
			l.look(s, now)
			if l.rung < 0 || l.rung >= len(rungs) || l.calm > longestRest {
				t.Fatalf("%+v", l)
			}
			if s.heard+s.unheard > 0 {
				last = now
			}
			if l.rung < was && was <= keysRung && (s.quiet < quietBefore || now.Sub(last) < calm) {
				t.Fatalf("from %d to %d %v after a late read, %v after a sound", was, l.rung, now.Sub(last), s.quiet)
			}
			if l.rung > was && s.heard == 0 {
				t.Fatalf("from %d to %d for nothing", was, l.rung)
			}
		}
	})
}

// clocked is a source that is read and watched by a clock of the test's own.
type clocked struct {
	*Player
	w   *watcher
	now time.Duration
}

func newClocked() *clocked {
	c := &clocked{Player: prepare(Options{Profile: AutomaticProfile, Click: -1})}
	c.ladder = newLadder(c.source.opened)
	c.source.clock = func() int64 { return int64(c.now) }
	c.open()
	return c
}

// open is what the device's opener and the watch over it begin with.
func (c *clocked) open() {
	c.source.adopt(rungs[c.ladder.rung])
	c.w = c.newWatcher(&fakeDevice{}, rungs[c.ladder.rung], c.source.opened.Add(c.now))
}

// pass reads as a device does, every so often, looking as often as the watch does,
// and reports whether the device was opened anew.
func (c *clocked) pass(length, every time.Duration) (anew bool) {
	looked := c.now
	for end := c.now + length; c.now < end; {
		c.now += every
		pull(&c.source, 16)
		if c.now-looked < watchInterval {
			continue
		}
		looked = c.now
		if c.w.look(c.source.opened.Add(c.now)) {
			c.open()
			anew = true
		}
	}
	return anew
}

// TestBuffersFollowTheMachine from the reads to the buffers.
func TestBuffersFollowTheMachine(t *testing.T) {
	if len(rungs) == 1 {
		t.Skip("this system has one connection to the device")
	}
	const ms = time.Millisecond
	c := newClocked()
	stands := func(what string, anew bool, want Profile) {
		t.Helper()
		if got := rungs[c.ladder.rung]; got != want || time.Duration(c.source.device.Load()) != want.Device {
			t.Errorf("%s: %+v, want %+v", what, got, want)
		}
		if anew != (c.ladder.rung != firstRung) {
			t.Errorf("%s: opened anew: %v", what, anew)
		}
	}
	stands("at first", false, ShortProfile)
	stands("a busy machine in silence", c.pass(time.Second, 14*ms), ShortProfile)
	c.SetRegistration(&flute)
	c.KeyDown(arrange.Upper, 60)
	stands("a key is held", c.pass(5*time.Second, 5*ms), ShortProfile)
	c.pass(14*ms, 14*ms)
	stands("one late read", c.pass(time.Second, 5*ms), ShortProfile)
	stands("late reads while it sounds", c.pass(500*ms, 14*ms), LiveProfile)
	if c.pass(3*time.Minute, 10*ms) {
		t.Error("the buffers become shorter while a key is held")
	}
	c.KeyUp(arrange.Upper, 60)
	c.pass(20*time.Second, 10*ms)
	if got := rungs[c.ladder.rung]; got != ShortProfile {
		t.Errorf("in the silence after a calm: %+v", got)
	}
}
