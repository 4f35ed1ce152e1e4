package player

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestCushionComesBack lengthens at once by what was missing, but no less than the
// device takes, and shortens after the calm, later each time that was too soon.
func TestCushionComesBack(t *testing.T) {
	began := time.Now()
	c := newCushion(Profile{Buffer: 256}, second, 20*time.Second, began)
	for _, step := range []struct {
		second, missing, want int
	}{
		{1, 0, 256}, {2, 1, 384}, {3, 500, 884}, {4, 500, 1024},
		{23, 0, 1024}, {24, 0, 512}, {43, 0, 512}, {44, 0, 256}, {500, 0, 256},
		{501, 128, 384}, {540, 0, 384}, {541, 0, 256}, // the calm was too short once
		{542, 256, 512}, {600, 0, 512}, {621, 512, 1024}, {700, 0, 1024}, {701, 0, 512},
	} {
		was := c.frames
		if changed := c.look(step.missing, began.Add(time.Duration(step.second)*time.Second)); c.frames != step.want || changed != (c.frames != was) {
			t.Errorf("after %d s (missing: %d) it has %d frames, want %d", step.second, step.missing, c.frames, step.want)
		}
	}
}

// TestCushionStaysWithinItsLimits whatever happens, and is never halved twice
// within a calm, nor soon after a late read.
func TestCushionStaysWithinItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		now := time.Now()
		base := rapid.IntRange(1, 6000).Draw(t, "frames")
		c := newCushion(Profile{Buffer: base}, second, firstCalm, now)
		shortened, late := now, now
		for range 60 {
			now = now.Add(time.Duration(rapid.IntRange(1, 40).Draw(t, "seconds")) * time.Second)
			was, calm := c.frames, c.calm
			missing := max(0, rapid.IntRange(-3000, 1000).Draw(t, "missing"))
			isLate := missing > 0
			c.look(missing, now)
			if isLate && c.frames < min(was+missing, c.most) {
				t.Fatalf("%d frames, %d were missing, and now it has %d", was, missing, c.frames)
			}
			if c.frames < base || c.frames > max(base, 4*base) || c.frames > max(base, SafeProfile.Buffer) || c.calm > longestCalm {
				t.Fatalf("%+v", c)
			}
			if c.frames < was && (isLate || now.Sub(late) < calm || now.Sub(shortened) < calm) {
				t.Fatalf("shortened from %d to %d frames, %v after a late read", was, c.frames, now.Sub(late))
			}
			if isLate {
				late = now
			}
			if c.frames < was {
				shortened = now
			}
		}
	})
}

// TestCushionFitsTheDevice once it is known how much that takes at a time.
func TestCushionFitsTheDevice(t *testing.T) {
	for _, test := range []struct{ late, period, frames, least, most int }{
		{0, 64, 128, 128, 768},
		{0, 96, 192, 192, 768},
		{0, 10, 96, 96, 768},
		{0, 2000, 4000, 4000, 4000},
		{1, 64, 288, 128, 768}, // it comes back of itself
		{0, 0, 192, 192, 768},
	} {
		c := newCushion(ShortestProfile, second, firstCalm, time.Now())
		for range test.late {
			c.look(1, time.Now())
		}
		was := c.frames
		if changed := c.fit(test.period); c.frames != test.frames || c.least != test.least || c.most != test.most || changed != (was != c.frames) {
			t.Errorf("%+v: %+v, changed %v", test, c, changed)
		}
		if c.fit(test.period) || c.fit(test.period/2) {
			t.Errorf("%+v: fitted twice", test)
		}
		if c.fit(3000); c.least != 6000 {
			t.Errorf("%+v: after longer periods at least %d frames", test, c.least)
		}
	}
}

// TestAWaitIsWhoseFaultItIs tells a player that came late from a device that did not
// ask, by what the device was given meanwhile.
func TestAWaitIsWhoseFaultItIs(t *testing.T) {
	const ms = int64(time.Millisecond)
	for _, test := range []struct {
		name          string
		waited        int64
		room          int // of 384 frames, which are 8 ms; the device has 4 ms
		heard, missed int64
	}{
		{"in time", 3 * ms, 96, 0, 0},
		{"the device was fed from the player's buffer", 7 * ms, 192, 0, 0},
		{"all of it, and just long enough", 12 * ms, 384, 0, 0},
		{"the player came too late", 14 * ms, 384, 1, 1},
		{"the device did not ask", 7 * ms, 96, 1, 0},
		{"for longer than both buffers", 30 * ms, 192, 1, 0},
		{"it is not known what was given", 7 * ms, 0, 1, 0},
		{"and longer than both buffers", 14 * ms, 0, 1, 1},
	} {
		p, _ := pulled(t)
		s := &p.source
		s.adopt(Profile{Device: 4 * time.Millisecond})
		s.buffer.Store(384)
		s.sounded.Store(1)
		s.wait(1, 1+test.waited, test.room, 384)
		if s.heard.Load() != test.heard || s.missed.Load() != test.missed {
			t.Errorf("%s: heard %d, missed %d", test.name, s.heard.Load(), s.missed.Load())
		}
		s.sounded.Store(0)
		if s.wait(1, 1+test.waited, test.room, 384); s.unheard.Load() != test.heard {
			t.Errorf("%s: %d in silence", test.name, s.unheard.Load())
		}
	}
}

// TestSourceFillsTheBufferExactly and learns how much the device takes at a time,
// from a player like that of the library: it asks while it holds less than its
// buffer's length.
func TestSourceFillsTheBufferExactly(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p, _ := pulled(t)
		s, held := &p.source, 0
		asked := 0
		holds := func() int { asked++; return held }
		s.adopt(Profile{Device: 10 * time.Millisecond, Buffer: rapid.IntRange(150, 600).Draw(rt, "buffer"), Read: rapid.IntRange(1, 256).Draw(rt, "read")})
		s.holds.Store(&holds)
		block := make([]byte, 4096*frameBytes)
		fill := func() {
			for held < int(s.buffer.Load()) {
				n, err := s.Read(block)
				if err != nil || n == 0 {
					rt.Fatal("a read of", n, err)
				}
				held += n / frameBytes
			}
		}
		if fill(); asked != 1 {
			rt.Fatalf("asked %d times how much there is, in one filling", asked)
		}
		period := rapid.IntRange(1, 140).Draw(rt, "period")
		for i := range 60 {
			if i == 20 {
				s.buffer.Store(int64(rapid.IntRange(150, 600).Draw(rt, "another")))
				for held >= int(s.buffer.Load()) {
					held -= period
				}
				fill()
			}
			times := 1
			if i%3 == 0 {
				times = rapid.IntRange(1, 3).Draw(rt, "times")
			}
			for range times {
				held = max(0, held-period)
			}
			over := held > int(s.buffer.Load())
			fill()
			if !over && held != int(s.buffer.Load()) {
				rt.Fatalf("%d frames in a buffer of %d", held, s.buffer.Load())
			}
		}
		if learned := s.period(); learned != period {
			rt.Fatalf("learned that the device takes %d frames, not %d", learned, period)
		}
	})
}

// TestABufferThatIsTooShortGrows though the device asks in time: one that takes
// all there is each time finds less than it wants.
func TestABufferThatIsTooShortGrows(t *testing.T) {
	d := &fakeDevice{}
	p := start(Options{Profile: ShortestProfile}, func(s *source, _ int, _ Profile) (device, error) { d.source = s; return d, nil })
	defer p.Close()
	settled(t, p)
	s, held := d.source, 0
	holds := func() int { return held }
	s.holds.Store(&holds)
	block := make([]byte, 4096*frameBytes)
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		const takes = 480
		want := int(s.buffer.Load())
		if d.buffer.Load() >= 2*takes {
			return
		}
		for held < want {
			n, _ := s.Read(block)
			held += n / frameBytes
		}
		held = max(0, held-takes)
	}
	t.Errorf("the buffer has %d frames", d.buffer.Load())
}
