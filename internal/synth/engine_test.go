package synth

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

const testRate = 48000

// TestDrawbarPitchAndLevel sounds each drawbar alone under five keys and looks
// for its pitch and level in the output.
func TestDrawbarPitchAndLevel(t *testing.T) {
	ratios := []float64{0.5, 1.5, 1, 2, 3, 4, 5, 6, 8} // of just intonation
	for _, key := range []int{36, 48, 60, 72, 84} {
		for bar, ratio := range ratios {
			out := side(play(t, dry(), 1, only(Upper, bar, 8), down(0, Upper, key)), 0)[8000:]
			want := Frequency(float64(key)) * ratio
			for want > Frequency(LowestKey+Generators-0.5) {
				want /= 2 // folded back
			}
			nearest := math.Round(12*math.Log2(want/440)) + 69
			got := pitch(out, Frequency(nearest), testRate)
			if c := cents(got, Frequency(nearest)); math.Abs(c) > 0.2 {
				t.Errorf("key %d %s: %.4f Hz, %.2f cents off key %g", key, Footage(Upper, bar), got, c, nearest)
			}
			g := Generator(Upper, key, bar)
			level := dB(amplitude(out, got, testRate) / (unit * float64(taper(g))))
			if math.Abs(level) > 0.5 {
				t.Errorf("key %d %s: %.2f dB from the table", key, Footage(Upper, bar), level)
			}
			if rest := math.Abs(dB(rms(out) * math.Sqrt2 / amplitude(out, got, testRate))); rest > 0.05 {
				t.Errorf("key %d %s: %.2f dB of something else sounds", key, Footage(Upper, bar), rest)
			}
		}
	}
}

// TestConcertPitch pins the absolute pitches the rest of the program relies on.
func TestConcertPitch(t *testing.T) {
	tests := []struct {
		division Division
		bar, key int
		hertz    float64
	}{
		{Upper, 2, 60, 261.63}, {Lower, 2, 60, 261.63}, {Upper, 0, 60, 130.81}, {Upper, 8, 60, 2093.0},
		{Pedal, 1, 36, 65.41}, {Pedal, 0, 36, 32.70}, {Pedal, 1, 60, 261.63},
	}
	for _, test := range tests {
		out := side(play(t, dry(), 2, only(test.division, test.bar, 8), down(0, test.division, test.key)), 0)[8000:]
		got := pitch(out, test.hertz, testRate)
		if math.Abs(cents(got, test.hertz)) > 0.6 {
			t.Errorf("division %d %s key %d: %.3f Hz, want %.2f",
				test.division, Footage(test.division, test.bar), test.key, got, test.hertz)
		}
		for f := test.hertz * 2; f < 1100; f += test.hertz {
			if a, b := amplitude(out, f, testRate), amplitude(out, got, testRate); a > b/2 {
				t.Errorf("%s key %d: partial at %.1f Hz only %.1f dB under the fundamental",
					Footage(test.division, test.bar), test.key, f, dB(b/a))
			}
		}
	}
}

func TestDrawbarSteps(t *testing.T) {
	previous := 0.0
	for setting := uint8(1); setting <= 8; setting++ {
		out := side(play(t, dry(), 0.5, only(Upper, 2, setting), down(0, Upper, 69)), 0)[4800:]
		a := amplitude(out, 440, testRate)
		if step := dB(a / previous); setting > 1 && math.Abs(step-3) > 0.5 {
			t.Errorf("step %d to %d: %.2f dB, want 3 ± 0.5", setting-1, setting, step)
		}
		previous = a
	}
	if out := play(t, dry(), 0.2, only(Upper, 2, 0), down(0, Upper, 69)); peakOf(out) != 0 {
		t.Errorf("drawbar at 0 sounds: peak %g", peakOf(out))
	}
}

// TestDivisionsAreIndependent checks that a key sounds with the drawbars of
// its own division only.
func TestDivisionsAreIndependent(t *testing.T) {
	out := play(t, dry(), 0.3, draw(0, Upper, full...), down(0, Lower, 60), down(0, Pedal, 40))
	if p := peakOf(out); p != 0 {
		t.Errorf("keys without drawbars sound: peak %g", p)
	}
	c := dry()
	c.Mute[Lower] = true
	out = play(t, c, 0.3, draw(0, Lower, full...), down(0, Lower, 60))
	if p := peakOf(out); p != 0 {
		t.Errorf("muted division sounds: peak %g", p)
	}
}

// TestHeldTwice checks that a key pressed by two hands sounds once and until
// the second release.
func TestHeldTwice(t *testing.T) {
	once := play(t, dry(), 1, draw(0, Upper, full...), down(0, Upper, 60), up(30000, Upper, 60))
	twice := play(t, dry(), 1, draw(0, Upper, full...), down(0, Upper, 60), down(5000, Upper, 60),
		up(10000, Upper, 60), up(30000, Upper, 60), up(30001, Upper, 60))
	if !slices.Equal(once, twice) {
		t.Error("a key held twice differs from a key held once")
	}
}

// TestSilence requires exact zeros from some time after the last release on,
// for random playing.
func TestSilence(t *testing.T) {
	c := DefaultConfig()
	events, end := randomPlaying(3, 200)
	out := play(t, c, float64(end)/testRate+5.1, append(events, Event{Frame: end, Kind: AllNotesOff})...)
	last := 0
	for i, v := range out {
		if v != 0 {
			last = i/2 + 1
		}
	}
	if late := float64(int64(last)-end) / testRate; late > 5 {
		t.Errorf("still not exactly silent %.2f s after the last release", late)
	} else if late < 0 {
		t.Errorf("nothing sounded")
	}
}

// TestBlocksDoNotMatter renders the same events in blocks of random sizes.
func TestBlocksDoNotMatter(t *testing.T) {
	events, end := randomPlaying(11, 300)
	c := DefaultConfig()
	c.Master = 1
	want := play(t, c, float64(end)/testRate, events...)
	again := play(t, c, float64(end)/testRate, events...)
	if !slices.Equal(want, again) {
		t.Fatal("two renderings of the same events differ")
	}
	var e Engine
	if err := e.Init(c); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 2))
	var got []float32
	var scratch []Event
	rest := events
	for at := int64(0); at < end; {
		n := 1 + r.Int64N(700)
		scratch, rest = Take(scratch[:0], rest, at, at+n)
		block := make([]float32, 2*n)
		e.Render(block, scratch)
		got = append(got, block...)
		at += n
	}
	got = got[2*e.Latency():]
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Fatalf("frame %d: %g in small blocks, %g in large ones", i/2, got[i], want[i])
		}
	}
}

// randomPlaying is a wild player: keys on all divisions, drawbars, swell and
// speaker changed all the time, some keys tapped for under a millisecond.
func randomPlaying(seed uint64, n int) (events []Event, end int64) {
	r := rand.New(rand.NewPCG(seed, 0))
	for range n {
		at := r.Int64N(4 * testRate)
		d := Division(r.IntN(Divisions))
		switch r.IntN(6) {
		case 0:
			ev := Event{Frame: at, Kind: SetDrawbars, Division: d}
			for i := range ev.Drawbars {
				ev.Drawbars[i] = uint8(r.IntN(9))
			}
			events = append(events, ev)
		case 1:
			events = append(events, Event{Frame: at, Kind: SetSwell, Value: r.Float32()},
				Event{Frame: at, Kind: SetRotary, Rotary: Speed(r.IntN(3))}, Event{Frame: at, Kind: Tick})
		default:
			key := 36 + r.IntN(61)
			events = append(events, down(at, d, key), up(at+1+r.Int64N(1+r.Int64N(20000)), d, key))
		}
	}
	slices.SortStableFunc(events, func(a, b Event) int { return int(a.Frame - b.Frame) })
	return events, events[len(events)-1].Frame + 1
}

// TestNothingHangs checks the keying's bookkeeping after wild playing.
func TestNothingHangs(t *testing.T) {
	for seed := range uint64(20) {
		var e Engine
		if err := e.Init(DefaultConfig()); err != nil {
			t.Fatal(err)
		}
		events, end := randomPlaying(seed, 400)
		out := make([]float32, 2*(end+testRate))
		e.Render(out, events)
		if len(e.keys.pending) != 0 {
			t.Errorf("seed %d: %d contacts still about to move", seed, len(e.keys.pending))
		}
		e.bank.voices[accentBus].settle()
		for d := range e.bank.voices {
			if v := &e.bank.voices[d]; v.active[0]|v.active[1] != 0 {
				t.Errorf("seed %d division %d: generators %x still sound", seed, d, v.active)
			}
		}
	}
}

func TestEventsOutOfRangeAreTamed(t *testing.T) {
	nan := float32(math.NaN())
	out := play(t, DefaultConfig(), 0.2,
		Event{Kind: SetDrawbars, Division: 200, Drawbars: Drawbars{255, 255}},
		Event{Kind: KeyDown, Division: 77, Key: 255}, Event{Kind: SetRotary, Rotary: 99},
		Event{Kind: SetSwell, Value: nan}, Event{Kind: SetMaster, Value: 50}, Event{Kind: SetClick, Value: -3},
		Event{Kind: 250})
	for i, v := range out {
		if !(math.Abs(float64(v)) <= Ceiling) {
			t.Fatalf("frame %d: %g", i/2, v)
		}
	}
}

func TestInitRefuses(t *testing.T) {
	tests := []func(*Config){
		func(c *Config) { c.SampleRate = 8000 },
		func(c *Config) { c.Rotary.Crossover = math.NaN() },
		func(c *Config) { c.Rotary.Horn.Radius = 2 },
		func(c *Config) { c.Rotary.Drum.Fall = 0 },
		func(c *Config) { c.Rotary.Mics.Distance = 0 },
		func(c *Config) { c.Room.Size = 300 },
		func(c *Config) { c.Leakage = 1 },
	}
	for i, change := range tests {
		c := DefaultConfig()
		change(&c)
		if err := new(Engine).Init(c); err == nil {
			t.Errorf("case %d: accepted", i)
		} else if got := fmt.Sprint(err); len(got) < 20 {
			t.Errorf("case %d: %q says too little", i, got)
		}
	}
}

func TestRenderAllocatesNothing(t *testing.T) {
	var e Engine
	if err := e.Init(DefaultConfig()); err != nil {
		t.Fatal(err)
	}
	block := make([]float32, 2*256)
	key := 36
	if n := testing.AllocsPerRun(200, func() {
		key = 36 + (key-36+7)%61
		e.Render(block, []Event{
			draw(0, Upper, full...), down(3, Upper, key), down(4, Pedal, key), up(200, Upper, key),
			{Frame: 210, Kind: SetRotary, Rotary: Fast}, {Frame: 211, Kind: SetSwell, Value: 0.4}, {Frame: 212, Kind: Tick},
		})
	}); n != 0 {
		t.Errorf("Render allocates %g times", n)
	}
}
