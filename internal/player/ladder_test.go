package player

import (
	"testing"
	"time"

	"organbook/internal/arrange"
	"pgregory.net/rapid"
)

// silence is longer than anything waits for.
const silence = time.Hour

// TestLadderFollowsTheMachine up at once while something sounds, and down in
// silence after a calm that becomes longer each time it was too short.
func TestLadderFollowsTheMachine(t *testing.T) {
	needRungs(t)
	const ms = time.Millisecond
	began := time.Unix(0, 0)
	c := newChooser(Learned{}, began)
	for _, step := range []struct {
		second float64
		served
		want int
	}{
		{0.1, served{heard: 3, longest: 20 * ms}, 0},
		{0.25, served{heard: 9, longest: 20 * ms}, 0}, // it stumbles on
		{1, served{unheard: 50}, 0},                   // the window opens
		{4.2, served{heard: 1, longest: 7 * ms}, 0},   // not soon enough after the other
		{4.6, served{heard: 1, longest: 30 * ms}, 0},  // what no buffer for keys outlasts
		{4.9, served{heard: 9, longest: 50 * ms}, 0},
		{5.5, served{heard: 1, longest: 7 * ms}, 0}, // two are chance
		{5.9, served{heard: 1, longest: 7 * ms}, 1},
		{6.2, served{heard: 1, longest: 12 * ms}, 1},
		{6.5, served{heard: 1, longest: 12 * ms}, 1},
		{6.8, served{heard: 1, longest: 12 * ms}, 2},
		{14, served{heard: 9, longest: 40 * ms}, 2}, // there is no longer one for keys
		{40, served{heard: 1}, 2},
		{99, served{quiet: silence}, 2},
		{100, served{quiet: ms}, 2},                      // it sounds
		{101, served{quiet: silence, playing: true}, 2},  // the score rests
		{110, served{quiet: silence}, 1},                 //
		{169, served{quiet: silence}, 1},                 //
		{170, served{quiet: silence}, 0},                 //
		{500, served{quiet: silence}, 0},                 //
		{500.3, served{heard: 1}, 0},                     //
		{500.7, served{heard: 1}, 0},                     //
		{501, served{heard: 3, longest: 25 * ms}, 2},     // past one that would not do
		{560, served{quiet: silence}, 2},                 // that was not too soon: it held for a calm
		{561, served{quiet: silence}, 1},                 //
		{570.3, served{heard: 1}, 1},                     //
		{570.7, served{heard: 1}, 1},                     //
		{571, served{heard: 2, longest: 12 * ms}, 2},     // and that was
		{690, served{quiet: silence}, 2},                 //
		{691, served{quiet: silence}, 1},                 //
		{700, served{unheard: 1, quiet: silence}, 1},     //
		{819, served{quiet: silence}, 1},                 //
		{820, served{quiet: silence}, 0},                 // it held, but not for long
		{820.3, served{heard: 1}, 0},                     //
		{820.7, served{heard: 1}, 0},                     //
		{821, served{heard: 9, longest: 29 * ms}, 2},     //
		{940, served{quiet: silence}, 2},                 //
		{941, served{quiet: silence}, 1},                 //
		{951, served{heard: 1}, 1},                       //
		{958, served{heard: 1}, 1},                       //
		{965, served{heard: 1}, 1},                       //
		{972, served{heard: 1}, 1},                       //
		{979, served{heard: 1}, 2},                       // the fifth within half a minute
		{980, served{heard: 9, longest: time.Second}, 2}, //
		{1218, served{quiet: silence}, 2},                //
		{1219.1, served{quiet: silence}, 2},              // after the late reads of second 980
		{1220, served{quiet: silence}, 1},                //
	} {
		was := c.keys.rung
		changed := c.look(step.served, began.Add(time.Duration(step.second*1e9)))
		if c.keys.rung != step.want || changed != (c.keys.rung != was) {
			t.Fatalf("after %g s it stands on %d (changed %v), want %d: %+v", step.second, c.keys.rung, changed, step.want, c.keys)
		}
	}
}

func needRungs(t *testing.T) {
	t.Helper()
	if len(rungs) == 1 {
		t.Skip("this system has one connection to the device")
	}
}

// TestLadderNeverStepsDownInSound nor soon after a late read, and needs several of
// those to climb; the other ladder does not move.
func TestLadderNeverStepsDownInSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Unix(0, 0)
		c := newChooser(Learned{}, now)
		last := map[*ladder]time.Time{&c.keys: now, &c.score: now}
		for range 80 {
			now = now.Add(time.Duration(rapid.IntRange(1, 90).Draw(t, "seconds")) * time.Second)
			s := served{quiet: time.Duration(rapid.IntRange(0, 6).Draw(t, "quiet")) * time.Second, playing: rapid.Bool().Draw(t, "playing")}
			if s.playing && rapid.Bool().Draw(t, "anew") {
				c.begin(rapid.Bool().Draw(t, "alone"))
			}
			if rapid.IntRange(0, 3).Draw(t, "late") == 0 {
				s.heard, s.unheard = rapid.IntRange(0, 4).Draw(t, "heard"), rapid.IntRange(0, 4).Draw(t, "unheard")
				s.longest = time.Duration(rapid.IntRange(5, 100).Draw(t, "longest")) * time.Millisecond
			}
			l, other := &c.keys, &c.score
			if c.scored {
				l, other = other, l
			}
			was, rests, before := *l, *other, c.profile()
			changed := c.look(s, now)
			if changed != (c.profile() != before) {
				t.Fatalf("changed is %v, from %v to %v", changed, before, c.profile())
			}
			if l.rung < l.least || l.rung > l.most || l.calm > longestRest || l.calm < firstRest {
				t.Fatalf("%+v", *l)
			}
			if other.rung != rests.rung || other.calm != rests.calm {
				t.Fatalf("from %+v to %+v, which is not in force", rests, *other)
			}
			if s.heard+s.unheard > 0 {
				last[l] = now
			}
			if l.rung < was.rung && (s.quiet < quietBefore || s.playing || now.Sub(last[l]) < l.calm) {
				t.Fatalf("from %d to %d %v after a late read, %v after a sound", was.rung, l.rung, now.Sub(last[l]), s.quiet)
			}
			if l.rung > was.rung && (s.heard == 0 || s.longest >= rungs[l.most].Device) {
				t.Fatalf("from %d to %d for nothing", was.rung, l.rung)
			}
			if changed && c.profile().Device < before.Device && (s.quiet < quietBefore || s.playing) {
				t.Fatalf("from %v to %v in the sound", before, c.profile())
			}
		}
	})
}

// TestAScoreHasALadderOfItsOwn that is in force while it plays by itself and until
// it has died away, and remembers where it stood.
func TestAScoreHasALadderOfItsOwn(t *testing.T) {
	needRungs(t)
	now := time.Unix(0, 0)
	c := newChooser(Learned{}, now)
	stands := func(what string, want Profile) {
		t.Helper()
		if c.profile() != want {
			t.Errorf("%s: %+v, want %+v", what, c.profile(), want)
		}
	}
	look := func(after time.Duration, s served) { now = now.Add(after); c.look(s, now) }
	stands("at first", ShortestProfile)
	if c.begin(false) {
		t.Error("a score that is played along with asks for other buffers")
	}
	stands("played along with", ShortestProfile)
	if !c.begin(true) || c.begin(true) {
		t.Error("a score by itself asks for other buffers once")
	}
	stands("a score", LiveProfile)
	look(time.Second, served{heard: 2, playing: true, longest: 31 * time.Millisecond})
	stands("a stumble", LiveProfile)
	look(time.Second, served{heard: 1, playing: true, longest: 31 * time.Millisecond})
	stands("another", SafeProfile)
	look(time.Hour, served{playing: true, quiet: silence})
	stands("it rests", SafeProfile)
	look(time.Second, served{quiet: quietBefore - 1})
	stands("it dies away", SafeProfile)
	look(time.Second, served{quiet: quietBefore})
	stands("silence", ShortestProfile)
	c.begin(true)
	stands("after an hour without a late read", LiveProfile)
	look(time.Second, served{heard: 1, playing: true})
	look(time.Second, served{heard: 1, playing: true})
	look(time.Second, served{quiet: silence})
	c.begin(true)
	stands("the next time", SafeProfile)
}

// TestWhatWasLearnedIsKept for the next start, with a way back.
func TestWhatWasLearnedIsKept(t *testing.T) {
	needRungs(t)
	now := time.Unix(0, 0)
	c := newChooser(Learned{}, now)
	for range 3 { // too soon, again and again
		c.look(served{heard: 1}, now.Add(time.Millisecond))
		c.look(served{heard: 1}, now.Add(time.Second/2))
		now = now.Add(time.Second)
		c.look(served{heard: 1, longest: 12 * time.Millisecond}, now)
		now = now.Add(16 * time.Minute)
		c.look(served{quiet: silence}, now)
		now = now.Add(time.Second)
	}
	c.begin(true)
	c.look(served{heard: 1, playing: true}, now)
	c.look(served{heard: 1, playing: true}, now.Add(oneStumble))
	was := c.learned()
	if was.Keys.Calm <= firstRest || was.Score.Buffer != SafeProfile.Device {
		t.Fatalf("learned %v", was)
	}
	c = newChooser(ParseLearned(was.String()), now)
	if c.learned() != was {
		t.Errorf("%v becomes %v", was, c.learned())
	}
	if c.look(served{quiet: silence}, now.Add(was.Keys.Calm-1)); c.learned().Keys != was.Keys {
		t.Error("a shorter one is tried too soon")
	}
	if c.look(served{quiet: silence}, now.Add(was.Keys.Calm)); c.learned().Keys.Buffer >= was.Keys.Buffer && was.Keys.Buffer > ShortestProfile.Device {
		t.Error("there is no way back")
	}
	c.forget()
	for _, text := range []string{"", "5ms", "5ms 1m0s 30ms a", "1h 1ns 1h 1000h", "-5ms -1m 5ms 0", Learned{}.String()} {
		other := newChooser(ParseLearned(text), now)
		l := other.learned()
		if l.Keys != c.learned().Keys || l.Score.Buffer != LiveProfile.Device || l.Score.Calm > longestRest {
			t.Errorf("%q is read as %v", text, l)
		}
	}
}

// clocked is a source that is read and watched by a clock of the test's own.
type clocked struct {
	*Player
	w   *watcher
	now time.Duration
}

func newClocked() *clocked {
	c := &clocked{Player: prepare(Options{Profile: AutomaticProfile, Click: -1})}
	c.chooser = newChooser(Learned{}, c.source.opened)
	c.source.clock = func() int64 { return int64(c.now) }
	c.open()
	return c
}

// open is what the device's opener and the watch over it begin with.
func (c *clocked) open() {
	p, d := c.asked(), &fakeDevice{}
	c.source.adopt(p)
	c.settle(d, p, nil)
	c.w = c.newWatcher(d, p, c.source.opened.Add(c.now))
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
	needRungs(t)
	const ms = time.Millisecond
	c := newClocked()
	stands := func(what string, anew, wantAnew bool, want Profile) {
		t.Helper()
		if got := c.Status().Buffers; got != want || time.Duration(c.source.device.Load()) != want.Device {
			t.Errorf("%s: %+v, want %+v", what, got, want)
		}
		if anew != wantAnew {
			t.Errorf("%s: opened anew: %v", what, anew)
		}
	}
	stands("at first", false, false, ShortestProfile)
	stands("a busy machine in silence", c.pass(time.Second, 8*ms), false, ShortestProfile)
	c.SetRegistration(&flute)
	c.KeyDown(arrange.Upper, 60)
	stands("a key is held", c.pass(5*time.Second, 2*ms), false, ShortestProfile)
	c.pass(8*ms, 8*ms)
	stands("one late read", c.pass(time.Second, 2*ms), false, ShortestProfile)
	stands("late reads while it sounds", c.pass(500*ms, 8*ms), true, ShortProfile)
	stands("later ones", c.pass(500*ms, 14*ms), true, LiveProfile)
	if c.pass(3*time.Minute, 10*ms) {
		t.Error("the buffers become shorter while a key is held")
	}
	c.KeyUp(arrange.Upper, 60)
	stands("in the silence after a calm", c.pass(20*time.Second, 10*ms), true, ShortProfile)
	c.SetProfile(AutomaticProfile)
	select {
	case <-c.changed:
	default:
		t.Error("choosing it again does not ask for other buffers")
	}
	c.open()
	stands("chosen again", false, false, ShortestProfile)
}

// TestAScoreBeginsWithItsBuffers and not before the device has them, and what is
// asked of it in the meantime keeps its order.
func TestAScoreBeginsWithItsBuffers(t *testing.T) {
	needRungs(t)
	const ms = time.Millisecond
	c := newClocked()
	c.Load(performed(t, played(0, 4*q, arrange.Upper, arrange.LayerLead, 60)))
	opens := func(what string, want bool) {
		t.Helper()
		select {
		case <-c.changed:
			if !want {
				t.Errorf("%s: the device is opened anew", what)
			}
			c.open()
		default:
			if want {
				t.Errorf("%s: the device is not opened anew", what)
			}
		}
	}
	heard := func() bool { return c.source.quiet() < 200*ms }
	c.pass(time.Second, 2*ms)
	c.Play(0)
	if c.pass(100*ms, 2*ms); heard() || !c.Playing() {
		t.Errorf("before the device has its buffers: sounds %v, plays %v", heard(), c.Playing())
	}
	opens("the score", true)
	if c.asked() != LiveProfile {
		t.Errorf("it plays with %+v", c.asked())
	}
	if c.pass(time.Second, 2*ms); !heard() {
		t.Error("it does not sound")
	}
	c.Stop()
	if !c.pass(10*time.Second, 2*ms) || c.asked() != ShortestProfile {
		t.Errorf("after it: %+v", c.asked())
	}
	c.Play(0)
	c.Stop()
	opens("played and stopped", true)
	if c.pass(time.Second, 2*ms); heard() || c.Playing() {
		t.Error("a score that was stopped before its buffers came plays")
	}
	c.Play(0)
	c.LiveKey(arrange.Upper, 72, true)
	opens("a key is played along for the first time", true)
	c.pass(time.Second, 2*ms)
	c.LiveKey(arrange.Upper, 72, false)
	c.Stop()
	c.pass(10*time.Second, 2*ms)
	c.Play(0)
	opens("somebody plays along", false)
	c.Stop()
	c.now += playsAlong
	c.pass(10*time.Second, 2*ms)
	c.Play(0)
	// 16 frames a read: the device does not come, and half a second is enough.
	if c.pass(1450*2*ms, 2*ms); heard() {
		t.Error("it did not wait")
	}
	if c.pass(200*2*ms, 2*ms); !heard() {
		t.Error("it waits for ever")
	}
}

// TestOnlyWhatIsHeardLengthensTheCushion keeps the device waiting in silence, and then
// once while a key sounds.
func TestOnlyWhatIsHeardLengthensTheCushion(t *testing.T) {
	needRungs(t)
	const ms = time.Millisecond
	c := newClocked()
	before := c.w.cushion.frames
	c.pass(time.Second, 40*ms)
	if s := c.Status(); s.Late == 0 || c.w.cushion.frames != before {
		t.Errorf("%d late reads in silence, %d frames became %d", s.Late, before, c.w.cushion.frames)
	}
	c.SetRegistration(&flute)
	c.KeyDown(arrange.Upper, 60)
	c.pass(500*ms, 2*ms)
	wait := c.source.patience() + 3*ms
	c.pass(wait, wait)
	c.pass(100*ms, 2*ms)
	if want := before + 3*second/1000; c.w.cushion.frames != want {
		t.Errorf("after a read that was heard 3 ms late it has %d frames, want %d; it had %d", c.w.cushion.frames, want, before)
	}
}
