package player

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// TestCushionComesBack lengthens at once and shortens after the calm, later each
// time that was too soon.
func TestCushionComesBack(t *testing.T) {
	began := time.Now()
	c := newCushion(Profile{Buffer: 256}, second, 20*time.Second, began)
	for _, step := range []struct {
		second int
		late   bool
		want   int
	}{
		{1, false, 256}, {2, true, 512}, {3, true, 1024}, {4, true, 1024},
		{23, false, 1024}, {24, false, 512}, {43, false, 512}, {44, false, 256}, {500, false, 256},
		{501, true, 512}, {540, false, 512}, {541, false, 256}, // the calm was too short once
		{542, true, 512}, {600, false, 512}, {621, true, 1024}, {700, false, 1024}, {701, false, 512},
	} {
		was := c.frames
		if changed := c.look(step.late, began.Add(time.Duration(step.second)*time.Second)); c.frames != step.want || changed != (c.frames != was) {
			t.Errorf("after %d s (late: %v) it has %d frames, want %d", step.second, step.late, c.frames, step.want)
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
			isLate := rapid.IntRange(0, 3).Draw(t, "late") == 0
			c.look(isLate, now)
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
		{0, 80, 160, 160, 960},
		{0, 120, 240, 240, 960},
		{0, 10, 128, 128, 960},
		{0, 2000, 4000, 4000, 4000},
		{1, 80, 480, 160, 960}, // it comes back of itself
		{0, 0, 240, 240, 960},
	} {
		c := newCushion(ShortestProfile, second, firstCalm, time.Now())
		for range test.late {
			c.look(true, time.Now())
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
