package player

import (
	"math"
	"slices"
	"sync"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/synth"
)

const second = sampleRate

// melody is one key a bar (two seconds each), 60, 64, 68, 72 on the upper
// manual, over 48 on the lower from the first to the last bar.
func melody(t testing.TB) *perform.Performance {
	notes := []arrange.Note{played(0, 16*q, arrange.Lower, arrange.LayerBass, 48)}
	for i, key := range []int{60, 64, 68, 72} {
		notes = append(notes, played(4*q*project.Ticks(i), 4*q, arrange.Upper, arrange.LayerLead, key))
	}
	return performed(t, notes...)
}

func TestPlaysFromStartToEnd(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	expect(t, "before playing", take(second/2))
	p.Play(0)
	if !p.Playing() {
		t.Error("Playing is false right after Play")
	}
	for _, key := range []int{60, 64, 68, 72} {
		take(second / 4)
		expect(t, "bar", take(second), key, 48)
		take(second * 3 / 4)
	}
	take(second)
	expect(t, "after the end", take(second/2))
	if p.Playing() {
		t.Error("still playing after the end")
	}
}

// TestPlayingEqualsOffline plays the whole performance in pieces of odd sizes
// and compares it, sample for sample, with the offline rendering.
func TestPlayingEqualsOffline(t *testing.T) {
	p, take := pulled(t)
	perf := melody(t)
	p.SetClick(float64(synth.DefaultConfig().Click))
	p.Load(perf)
	p.Play(0)
	var live []float32
	for n := 1; len(live) < 2*9*second; n = n%977 + 13 {
		live = append(live, take(n)...)
	}
	live = live[2*p.transport.engine.Latency():]
	var file []float32
	err := Offline(Render{Performance: perf, Write: func(x []float32) error {
		file = append(file, x...)
		return nil
	}})
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 * 9 * second; len(file) != want {
		t.Fatalf("%d samples, want %d", len(file), want)
	}
	// The settings of the start act in a different order: their ramps, in the
	// first 20 ms, may differ.
	for i := second / 10; i < min(len(live), len(file)); i++ {
		if math.Abs(float64(live[i]-file[i])) > 1e-4 {
			t.Fatalf("frame %d: %g live, %g offline", i/2, live[i], file[i])
		}
	}
}

func TestPlayFromTheMiddle(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.Play(3) // in the middle of the second bar's note, under a held bass
	take(second / 5)
	expect(t, "second bar", take(second/2), 64, 48)
	p.Seek(6.5)
	take(second / 5)
	expect(t, "after a seek", take(second/2), 72, 48)
	p.Stop()
	take(second)
	expect(t, "after stop", take(second/2))
	p.Play(100)
	take(second / 4)
	expect(t, "beyond the end is the start", take(second/2), 60, 48)
}

func TestLoop(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.SetLoop(2, 4, true)
	p.Play(2)
	for range 3 {
		take(second / 2)
		expect(t, "loop", take(second), 64, 48)
		take(second / 2)
	}
	p.SetLoop(2, 4, false)
	take(2 * second)
	expect(t, "after the loop", take(second), 68, 48)
}

func TestMute(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.SetMute(perform.Layers(arrange.LayerBass))
	p.Play(0)
	take(second / 4)
	expect(t, "bass muted", take(second/2), 60)
	p.SetMute(0)
	take(second / 4)
	expect(t, "all heard", take(second/2), 60, 48)
	p.SetMute(perform.Layers(arrange.LayerLead))
	take(second / 4)
	expect(t, "lead muted while its key is down", take(second/8), 48)
}

func TestReplaceGoesOn(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.Play(0)
	take(second)
	p.Replace(performed(t, played(0, 16*q, arrange.Upper, arrange.LayerLead, 76)), 1)
	take(second / 4)
	expect(t, "replaced", take(second), 76)
	if at, moving := p.Position(); !moving || math.Abs(at-2.25) > 0.01 {
		t.Errorf("position %.3f, moving %v; want 2.25, true", at, moving)
	}
	p.Load(nil)
	take(second)
	expect(t, "nothing loaded", take(second/2))
	p.Play(0)
	take(second)
	if p.Playing() {
		t.Error("nothing is loaded and it plays")
	}
}

// TestPosition follows the cursor through play, a loop's turn, seek and stop.
func TestPosition(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	at := func(what string, want float64, wantMoving bool) {
		t.Helper()
		p.smooth = smoother{} // the device is pulled faster than the clock
		got, moving := p.Position()
		if math.Abs(got-want) > 0.003 || moving != wantMoving {
			t.Errorf("%s: %.4f moving %v, want %.4f moving %v", what, got, moving, want, wantMoving)
		}
	}
	late := toSeconds(int64(p.transport.engine.Latency()), sampleRate)
	take(1000)
	at("at rest", 0, false)
	p.Play(1)
	take(second)
	at("playing", 2-late, true)
	p.SetLoop(1, 3, true)
	take(second * 5 / 2)
	at("second time round", 2.5-late, true)
	p.Seek(5)
	take(second / 2)
	at("after seek", 5.5-late, true)
	p.Stop()
	take(second)
	at("stopped", 5.5, false)
	p.Seek(2)
	take(second / 10)
	at("moved by hand", 2, false)
}

func TestCountInAndMetronome(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.SetCountIn(1)
	p.Play(2)
	count := take(2 * second)
	expect(t, "count-in", count)
	if at, moving := p.Position(); at > 2 || !moving {
		t.Errorf("after the count-in at %.3f, moving %v", at, moving)
	}
	if got := clicksIn(count); !slices.Equal(got, []int{0, 500, 1000, 1500}) {
		t.Errorf("count-in clicks at %v ms", got)
	}
	take(second / 4)
	expect(t, "after the count-in", take(second), 64, 48)
	p.Stop()
	p.SetCountIn(0)
	p.Load(performed(t))
	p.SetMetronome(true)
	take(second)
	p.Play(0)
	if got := clicksIn(take(2 * second)); !slices.Equal(got, []int{0, 500, 1000, 1500}) {
		t.Errorf("metronome clicks at %v ms", got)
	}
}

// clicksIn returns the milliseconds at which an otherwise silent signal
// starts to sound, to the nearest five.
func clicksIn(stereo []float32) (at []int) {
	quiet := second
	for i := 0; i < len(stereo); i += 2 {
		if math.Abs(float64(stereo[i])) < 0.01 {
			quiet++
			continue
		}
		if quiet > second/10 {
			at = append(at, int(math.Round(float64(i/2)/sampleRate*200))*5)
		}
		quiet = 0
	}
	return at
}

func TestKeysByHand(t *testing.T) {
	p, take := pulled(t)
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 60)
	p.KeyDown(arrange.Lower, 72)
	p.KeyDown(arrange.Upper, 1000)
	take(second / 10)
	expect(t, "two keys", take(second/2), 60, 72)
	if l := p.Level(); l < 0.01 || l > 0.2 {
		t.Errorf("level %.3f", l)
	}
	p.KeyUp(arrange.Upper, 60)
	take(second / 10)
	expect(t, "one key", take(second/2), 72)
	p.Load(melody(t))
	p.Play(2)
	take(second / 10)
	expect(t, "a key beside the score", take(second/2), 64, 48, 72)
	p.Stop()
	take(second / 10)
	expect(t, "the key outlasts the score", take(second/2), 72)
	p.Panic()
	take(second / 10)
	p.Level()
	expect(t, "panic", take(second/2))
	if l := p.Level(); l > 1e-4 {
		t.Errorf("level %g in silence", l)
	}
}

func TestAudition(t *testing.T) {
	p, take := pulled(t)
	chord := func(keys ...int) (list []Key) {
		for _, k := range keys {
			list = append(list, Key{arrange.Upper, k})
		}
		return list
	}
	p.Audition(chord(60, 64, 68), &flute, time.Second)
	take(second / 10)
	expect(t, "block", take(second/2), 60, 64, 68)
	p.Audition(chord(64, 72), nil, time.Second)
	take(second / 10)
	expect(t, "next block", take(second/2), 64, 72)
	take(second / 2)
	expect(t, "over", take(second/2))
	p.Audition(chord(60), nil, 0)
	take(5 * second)
	expect(t, "held", take(second/2), 60)
	before := rmsOf(take(second / 10))
	p.Audition(chord(60), nil, 0)
	take(second / 100)
	if gap := rmsOf(take(second / 50)); gap > before/100 {
		t.Errorf("the same block again has no new attack: %.5f in the gap, %.5f before", gap, before)
	}
	take(second / 10)
	expect(t, "the same block again", take(second/2), 60)
	p.Release()
	take(second / 10)
	expect(t, "released", take(second/2))
}

func rmsOf(x []float32) float64 {
	sum := 0.0
	for _, v := range x {
		sum += float64(v) * float64(v)
	}
	return math.Sqrt(sum / float64(len(x)))
}

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
	time.Sleep(300 * time.Millisecond)
	at, moving := p.Position()
	if want := 1 + time.Since(began).Seconds(); !moving || at < 1.1 || at > want+0.05 {
		t.Errorf("position %.3f moving %v, want up to %.3f", at, moving, want)
	}
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

// TestBufferGrows keeps the device waiting and expects a longer buffer.
func TestBufferGrows(t *testing.T) {
	d := &fakeDevice{}
	p := start(Options{}, func(s *source, _ int, _ Profile) (device, error) { d.source = s; return d, nil })
	defer p.Close()
	settled(t, p)
	pull(d.source, 128)
	time.Sleep(100 * time.Millisecond)
	pull(d.source, 128)
	if late := p.Status().Late; late != 1 {
		t.Errorf("%d late reads counted, want 1", late)
	}
	for range 300 {
		if n := d.buffer.Load(); n == int64(2*LiveProfile.Buffer) {
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

func TestOfflineMute(t *testing.T) {
	var out []float32
	r := Render{Performance: melody(t), Mute: perform.Layers(arrange.LayerBass), Tail: 0.5,
		Write: func(x []float32) error { out = append(out, x...); return nil }}
	if err := Offline(r); err != nil {
		t.Fatal(err)
	}
	if int64(len(out)) != 2*r.Frames() || r.Frames() != second*17/2 {
		t.Errorf("%d samples, %d frames", len(out), r.Frames())
	}
	expect(t, "bass muted", out[second:2*second], 60)
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

// TestRegistrationsAreSensible plays a block with its bass in every built-in
// registration: none is lost beside the others, none is near the ceiling.
func TestRegistrationsAreSensible(t *testing.T) {
	for _, r := range project.Registrations() {
		all := setting(&r)
		events := all[:]
		for _, key := range []uint8{67, 64, 62, 58, 55} {
			events = append(events, synth.Event{Kind: synth.KeyDown, Key: key})
		}
		events = append(events, synth.Event{Kind: synth.KeyDown, Division: synth.Pedal, Key: 43})
		var out []float32
		err := synth.Offline(synth.Job{Config: synth.DefaultConfig(), Events: events, Frames: 4 * second,
			Write: func(x []float32) error { out = append(out, x...); return nil }})
		if err != nil {
			t.Fatal(err)
		}
		level, peak := 20*math.Log10(rmsOf(out[2*second:])), 20*math.Log10(float64(slices.Max(out)))
		t.Logf("%s: %.1f dBFS RMS, peak %.1f", r.Name, level, peak)
		if level < -42 || level > -15 || peak > -3 {
			t.Errorf("%s: %.1f dBFS RMS, peak %.1f", r.Name, level, peak)
		}
	}
}
