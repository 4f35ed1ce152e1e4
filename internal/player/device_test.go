package player

import (
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"organbook/internal/arrange"
)

// TestWithoutDevice checks that the cursor moves in time when there is no
// sound device.
func TestWithoutDevice(t *testing.T) {
	p := start(Options{}, noDevice)
	defer p.Close()
	settled(t, p)
	if s := p.Status(); s.Device || s.Err != "no sound device: it does not open" {
		t.Errorf("status %+v", s)
	}
	p.Load(melody(t))
	began := time.Now()
	p.Play(1)
	for range 500 {
		time.Sleep(10 * time.Millisecond)
		at, moving := p.Position()
		if want := 1 + time.Since(began).Seconds(); at > want+0.05 {
			t.Fatalf("position %.3f, want up to %.3f", at, want)
		}
		if moving && at > 1.1 {
			return
		}
	}
	t.Error("the cursor stands still")
}

// TestDeviceLost breaks the device while playing.
func TestDeviceLost(t *testing.T) {
	d := &fakeDevice{broken: errBroken}
	p := start(Options{}, func(s *source, _ int, _ Profile) (device, error) { return d, nil })
	defer p.Close()
	p.Load(melody(t))
	p.Play(0)
	for range 500 {
		if at, moving := p.Position(); moving && at > 0.1 {
			if s := p.Status(); s.Device || s.Err == "" {
				t.Errorf("the device is gone and the status is %+v", s)
			}
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Error("the cursor stands still after the device is gone")
}

// TestDeviceFoundAgain breaks the device and mends it.
func TestDeviceFoundAgain(t *testing.T) {
	var opened atomic.Int32
	p := start(Options{retry: 30 * time.Millisecond}, func(s *source, _ int, _ Profile) (device, error) {
		switch opened.Add(1) {
		case 1:
			return &fakeDevice{broken: errBroken}, nil
		case 2:
			return nil, errBroken
		}
		return &fakeDevice{source: s}, nil
	})
	for range 500 {
		if opened.Load() == 3 && p.Status().Device {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if s := p.Status(); !s.Device || s.Err != "" || s.Late != 0 {
		t.Errorf("after the device is back the status is %+v", s)
	}
	p.Close()
	<-p.ended
}

// TestDeviceStalls lets a device go without a word.
func TestDeviceStalls(t *testing.T) {
	var opened atomic.Int32
	p := start(Options{retry: 30 * time.Millisecond, stalled: 200 * time.Millisecond}, func(s *source, _ int, _ Profile) (device, error) {
		if opened.Add(1) == 1 {
			pull(s, 128)
		}
		return &fakeDevice{source: s}, nil
	})
	defer p.Close()
	for range 500 {
		if opened.Load() == 2 && p.Status().Device {
			if n := p.Status().Lost; n != 1 {
				t.Errorf("%d devices lost, want 1", n)
			}
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("status %+v after a device that has stopped asking", p.Status())
}

// TestStarved tells a player that ran dry from a device that did not ask.
func TestStarved(t *testing.T) {
	const ms = int64(time.Millisecond)
	for _, test := range []struct {
		what  string
		reads [][2]int64 // time in ms, frames
		want  bool
	}{
		{"the whole buffer at once", [][2]int64{{0, 256}, {1, 256}, {1, 256}, {2, 256}}, true},
		{"in one", [][2]int64{{0, 1024}}, true},
		{"what the device took", [][2]int64{{0, 256}, {1, 256}, {21, 256}, {22, 256}, {23, 256}, {24, 256}}, false},
	} {
		r := refill{on: true}
		got := false
		for _, read := range test.reads {
			got = r.takes(int(read[1]), read[0]*ms, 1024) || got
		}
		if got != test.want || (&refill{}).takes(1024, 0, 1024) {
			t.Errorf("%s: starved %v", test.what, got)
		}
	}
}

// TestOtherBuffers changes the buffers of a player that sounds: the device is
// opened anew with them, and the sound goes on where it was.
func TestOtherBuffers(t *testing.T) {
	opened := make(chan Profile, 8)
	devices := make(chan *fakeDevice, 8)
	p := start(Options{}, func(s *source, _ int, of Profile) (device, error) {
		d := &fakeDevice{source: s}
		s.adopt(of)
		opened <- of
		devices <- d
		return d, nil
	})
	defer p.Close()
	if first := <-opened; first != LiveProfile {
		t.Errorf("opened with %+v at first", first)
	}
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 60)
	pull((<-devices).source, second/10)
	before := p.transport.rendered.Load()
	p.SetProfile(LiveProfile) // nothing new
	p.SetProfile(ShortProfile)
	if then := <-opened; then != ShortProfile {
		t.Errorf("opened with %+v then", then)
	}
	d := <-devices
	if !p.Status().Settled || p.Status().Lost != 0 {
		t.Errorf("status %+v", p.Status())
	}
	expect(t, "the key held", pull(d.source, second/2), 60)
	if n := p.transport.rendered.Load() - before; n != second/2 {
		t.Errorf("%d frames were rendered after the change, want %d", n, second/2)
	}
	if most := p.source.most.Load(); most != int64(ShortProfile.Read) {
		t.Errorf("%d frames are rendered at a time", most)
	}
}

// TestBufferGrows keeps the device waiting while a key sounds and expects a longer
// buffer.
func TestBufferGrows(t *testing.T) {
	d := &fakeDevice{}
	p := start(Options{}, func(s *source, _ int, _ Profile) (device, error) { d.source = s; return d, nil })
	defer p.Close()
	settled(t, p)
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 60)
	pull(d.source, second/10)
	time.Sleep(100 * time.Millisecond)
	pull(d.source, 128)
	if late := p.Status().Late; late != 1 {
		t.Errorf("%d late reads counted, want 1", late)
	}
	for range 300 {
		if n := d.buffer.Load(); n > int64(LiveProfile.first(second)) {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Errorf("the buffer has %d frames", d.buffer.Load())
}

type brokenError string

func (e brokenError) Error() string { return string(e) }

const errBroken = brokenError("unplugged")

// TestManyHands uses the player from several goroutines while it is rendered;
// the race detector looks on.
func TestManyHands(t *testing.T) {
	p, take := pulled(t)
	perf := melody(t)
	p.Load(perf)
	var wait sync.WaitGroup
	for hand := range 4 {
		wait.Go(func() {
			for i := range 300 {
				p.KeyDown(arrange.Upper, 40+hand*10+i%10)
				p.KeyUp(arrange.Upper, 40+hand*10+i%10)
				p.SetSwell(float64(i%10) / 10)
				p.Position()
				switch i % 50 {
				case 0:
					p.Toggle(float64(i % 7))
				case 10:
					p.Replace(perf, 1)
				case 20:
					p.Audition([]Key{{arrange.Lower, 50}}, &flute, time.Second)
				case 30:
					p.Level()
				}
			}
		})
	}
	for range 400 {
		take(256)
	}
	wait.Wait()
	p.Panic()
	for waiting(p) > 0 { // nobody else looks by now but the watch
		take(256)
		p.Position()
	}
	take(second)
	if x := take(second); slices.Max(x) != 0 || slices.Min(x) != 0 {
		t.Error("something still sounds after Panic")
	}
}

// TestNothingIsLost sends far more commands than the ring holds while nobody
// takes them.
func TestNothingIsLost(t *testing.T) {
	p, take := pulled(t)
	for range 1000 {
		p.KeyDown(arrange.Upper, 60)
		p.KeyUp(arrange.Upper, 60)
	}
	if waiting(p) == 0 {
		t.Error("the flood was none")
	}
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 64)
	for range 20 {
		take(256)
		time.Sleep(watchInterval) // the watch moves the backlog on
	}
	expect(t, "after the flood", take(second/2), 64)
}

func TestRenderSideAllocatesNothing(t *testing.T) {
	p, _ := pulled(t)
	p.Load(melody(t))
	p.SetLoop(0, 1, true)
	p.SetMetronome(true)
	p.Play(0)
	block := make([]byte, 128*frameBytes)
	if n := testing.AllocsPerRun(2000, func() { p.source.Read(block) }); n != 0 {
		t.Errorf("Read allocates %g times", n)
	}
}

// BenchmarkRead renders a performance as a device would ask for it.
func BenchmarkRead(b *testing.B) {
	p := start(Options{}, func(s *source, _ int, _ Profile) (device, error) { return &fakeDevice{source: s}, nil })
	defer p.Close()
	p.Load(melody(b))
	p.SetLoop(0, 8, true)
	p.Play(0)
	block := make([]byte, 128*frameBytes)
	b.ReportAllocs()
	for b.Loop() {
		p.source.Read(block)
	}
}
