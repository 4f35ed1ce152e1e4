package synth

import (
	"math"
	"testing"
)

// bend returns the greatest second difference in x. A steady sound has some:
// a sine of amplitude a and frequency f bends by at most
// a·(2π·f/rate)² a frame, a gap or step bends by its whole height.
func bend(x []float32) (most float64) {
	for i := 2; i < len(x); i++ {
		most = max(most, math.Abs(float64(x[i]-2*x[i-1]+x[i-2])))
	}
	return most
}

// TestNoDiscontinuity presses, releases and changes drawbars, swell and master
// with the click turned off, and looks for steps in the waveform.
func TestNoDiscontinuity(t *testing.T) {
	c := dry()
	events := []Event{only(Upper, 2, 8), down(4800, Upper, 57), down(9600, Upper, 60)}
	calm := bend(side(play(t, c, 1, only(Upper, 2, 8), down(0, Upper, 57), down(0, Upper, 60)), 0)[24000:])
	for i := range 60 {
		at := int64(14400 + 400*i)
		events = append(events, draw(at, Upper, 0, 0, uint8(i*5%9)),
			Event{Frame: at + 100, Kind: SetSwell, Value: float32(i%3) / 2},
			Event{Frame: at + 200, Kind: SetMaster, Value: float32(i%5) / 4})
	}
	events = append(events, up(40000, Upper, 57), up(43000, Upper, 60))
	worst := bend(side(play(t, c, 1.5, events...), 0))
	limit := unit / 50 // −34 dB under the drawbar's own level
	t.Logf("greatest bend %.6f, of the held chord %.6f", worst, calm)
	if worst > limit {
		t.Errorf("the waveform bends by %.6f of full scale in a frame, want under %.6f", worst, limit)
	}
}

// TestSpeakerHasNoDiscontinuity changes the speed of the speaker all the time.
func TestSpeakerHasNoDiscontinuity(t *testing.T) {
	c := DefaultConfig()
	c.Click = 0
	events := []Event{draw(0, Upper, 8, 0, 8), down(0, Upper, 57)}
	for i := range 20 {
		events = append(events, Event{Frame: int64(20000 + 9000*i), Kind: SetRotary, Rotary: Speed((i + 1) % 3)})
	}
	out := play(t, c, 5, events...)
	for channel := range 2 {
		if b := bend(side(out, channel)[9600:]); b > unit/100 {
			t.Errorf("channel %d: the waveform bends by %.6f of full scale in a frame", channel, b)
		}
	}
}

// TestClick measures the click of a key: how long it lasts, and that its level
// follows the setting.
func TestClick(t *testing.T) {
	energy := func(click float32) (burst, later float64) {
		c := dry()
		c.Click = click
		events := []Event{draw(0, Upper, 8, 8, 8), down(4800, Upper, 48)}
		x, clean := side(play(t, c, 0.4, events...), 0), side(play(t, dry(), 0.4, events...), 0)
		for i := range x {
			x[i] -= clean[i]
		}
		if p := peakOf(x[:4800]); p != 0 {
			t.Errorf("the click begins before the key: %g", p)
		}
		return rms(x[4800 : 4800+480]), rms(x[4800+960 : 4800+1440])
	}
	half, later := energy(0.5)
	whole, _ := energy(1)
	if d := dB(whole / half); math.Abs(d-6) > 0.2 {
		t.Errorf("click at 1 lies %.2f dB over click at 0.5, want 6", d)
	}
	if dB(half/later) < 40 {
		t.Errorf("20 ms after the key the click has fallen by %.1f dB only", dB(half/later))
	}
	note := rms(side(play(t, dry(), 0.4, draw(0, Upper, 8, 8, 8), down(0, Upper, 48)), 0)[9600:])
	t.Logf("click at 1 over 10 ms: %.1f dB against the note", dB(whole/note))
	if d := dB(whole / note); math.Abs(d+16) > 2 {
		t.Errorf("click at 1 lies at %.1f dB against the note, want −16", d)
	}
}

// TestKeySpeaksAtItsFrame checks that a press is heard at its frame, and
// complete within the spread of the contacts and the ramp.
func TestKeySpeaksAtItsFrame(t *testing.T) {
	for _, at := range []int64{1, 63, 64, 1000, 4095, 4096, 4097} {
		out := side(play(t, dry(), 0.5, draw(0, Upper, full...), down(at, Upper, 60)), 0)
		first := 0
		for first < len(out) && out[first] == 0 {
			first++
		}
		if late := int64(first) - at; late < 0 || late > testRate*4/1000 {
			t.Errorf("key at frame %d first heard at %d", at, first)
		}
	}
}

// TestLevels checks that ordinary playing lies at a sensible level, and that
// even the fullest does not pump: the limiter takes off a few decibels.
func TestLevels(t *testing.T) {
	block := []Event{draw(0, Upper, 8, 8, 8), draw(0, Lower, 0, 0, 8, 4), draw(0, Pedal, 8, 6),
		down(0, Upper, 67), down(0, Upper, 64), down(0, Upper, 62), down(0, Upper, 58), down(0, Upper, 55), down(0, Pedal, 43)}
	out := play(t, DefaultConfig(), 4, block...)
	level, peak := dB(rms(out[testRate:])), dB(peakOf(out))
	t.Logf("block: %.1f dBFS RMS, peak %.1f", level, peak)
	if level < -28 || level > -14 || peak > -3 {
		t.Errorf("a block with bass lies at %.1f dBFS RMS, peak %.1f", level, peak)
	}
	c := DefaultConfig()
	c.Swell = 1
	out = play(t, c, 4, sixteen()...)
	c.Master /= 100 // far under the ceiling
	quiet := play(t, c, 4, sixteen()...)
	reduction := 40 + dB(rms(quiet[testRate:])) - dB(rms(out[testRate:]))
	t.Logf("sixteen keys, all drawn, swell open: %.1f dBFS RMS, limiter −%.1f dB", dB(rms(out[testRate:])), reduction)
	if reduction > 6 {
		t.Errorf("sixteen keys with everything drawn: the limiter takes off %.1f dB", reduction)
	}
}

// TestTheLimiterAtWorkShowsInThePeak holds what the window's light goes by, which
// stays on for two seconds: within each half of one the peak comes to 0.93 while the
// limiter holds sixteen keys back at the full level, and never while six with nearly
// as much drawn stay under it.
func TestTheLimiterAtWorkShowsInThePeak(t *testing.T) {
	c := DefaultConfig()
	c.Master, c.Swell = 1, 1
	six := []Event{draw(0, Upper, 8, 8, 8, 8, 6, 8, 4, 3, 6), down(0, Upper, 79), down(0, Upper, 74), down(0, Upper, 70), down(0, Upper, 67), down(0, Upper, 60), down(0, Pedal, 43)}
	for _, tc := range []struct {
		what   string
		events []Event
		held   bool
	}{{"sixteen keys", sixteen(), true}, {"six keys", six, false}} {
		out := play(t, c, 3, tc.events...)
		half := testRate
		for i := 2 * testRate; i+half <= len(out); i += half {
			if p := peakOf(out[i : i+half]); p >= 0.93 != tc.held {
				t.Errorf("%s: a peak of %.3f at %.2f s", tc.what, p, float64(i/2)/testRate)
			}
		}
	}
}

// sixteen is the fullest playing there is: five fingers a hand and more on
// both manuals, two feet, everything drawn.
func sixteen() []Event {
	events := []Event{draw(0, Upper, full...), draw(0, Lower, full...), draw(0, Pedal, 8, 8)}
	for _, key := range []int{60, 64, 67, 70, 72, 76, 79} {
		events = append(events, down(0, Upper, key))
	}
	for _, key := range []int{41, 45, 48, 52, 55, 57, 60} {
		events = append(events, down(0, Lower, key))
	}
	return append(events, down(0, Pedal, 36), down(0, Pedal, 43))
}

// TestSwell measures the pedal from open to closed: even in decibels above,
// less so for the low tones.
func TestSwell(t *testing.T) {
	level := func(v float32, bar, key int) float64 {
		c := dry()
		c.Swell = v
		return dB(rms(side(play(t, c, 0.6, only(Upper, bar, 8), down(0, Upper, key)), 0)[9600:]))
	}
	for _, test := range []struct {
		swell    float32
		key      int
		from, to float64
	}{
		{1, 96, 0, 0}, {0.5, 96, -9, -8.8}, {0, 96, -18, -17.7},
		{0.5, 36, -6.5, -5.5}, {0, 36, -12.5, -11.2},
	} {
		if got := level(test.swell, 2, test.key) - level(1, 2, test.key); got < test.from-0.05 || got > test.to+0.05 {
			t.Errorf("swell %g key %d: %.2f dB, want %g to %g", test.swell, test.key, got, test.from, test.to)
		}
	}
}

func TestMetronome(t *testing.T) {
	out := side(play(t, dry(), 1, Event{Frame: 4800, Kind: Tick, Value: 1}, Event{Frame: 24000, Kind: Tick}), 0)
	for at, f := range map[int]float64{4800: accentFrequency, 24000: tickFrequency} {
		if got := pitch(out[at:at+1200], f, testRate); math.Abs(got-f) > 20 {
			t.Errorf("click at frame %d: %.0f Hz, want %.0f", at, got, f)
		}
	}
	if p := peakOf(out[16000:24000]); p != 0 {
		t.Errorf("the click still sounds after 0.2 s: %g", p)
	}
}

func TestOfflineStops(t *testing.T) {
	blocks := 0
	j := Job{Config: dry(), Frames: 10 * testRate,
		Write:     func([]float32) error { blocks++; return nil },
		Cancelled: func() bool { return blocks == 3 },
	}
	if err := Offline(j); err != ErrCancelled || blocks != 3 {
		t.Errorf("cancelled after %d blocks with %v", blocks, err)
	}
	var total int64
	j.Cancelled, j.Frames = nil, 12345
	j.Progress = func(done, of int64) { total = done }
	j.Write = func(x []float32) error { blocks += len(x); return nil }
	blocks = 0
	if err := Offline(j); err != nil || blocks != 2*12345 || total != 12345 {
		t.Errorf("%d samples, progress %d, error %v", blocks, total, err)
	}
}

// BenchmarkIdle renders silence.
func BenchmarkIdle(b *testing.B) {
	var e Engine
	if err := e.Init(DefaultConfig()); err != nil {
		b.Fatal(err)
	}
	block := make([]float32, 2*256)
	for b.Loop() {
		e.Render(block, nil)
	}
	b.ReportMetric(256.0/testRate/(b.Elapsed().Seconds()/float64(b.N)), "×realtime")
}

// BenchmarkBank renders all generators of one division.
func BenchmarkBank(b *testing.B) {
	var k bank
	k.init(testRate, 0, nil)
	for g := range Generators {
		k.voices[Upper].add(g, 0.01, k.samples)
	}
	var out [chunk + pad]float32
	for b.Loop() {
		k.render(&k.voices[Upper], out[:chunk])
		k.step(chunk)
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/chunk*1e9, "ns/sample")
}
