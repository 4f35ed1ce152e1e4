package synth

import (
	"math"
	"math/rand/v2"
	"testing"
)

// toneChanges move everything about how the instrument is made, one after the
// other, every so many frames.
func toneChanges(from, every int64, wheels *Wheels) []Event {
	list := []Event{
		{Kind: SetLeakage, Value: 0.02}, {Kind: SetWheels, Wheels: wheels},
		{Kind: SetMicDistance, Value: 0.4}, {Kind: SetMicAngle, Value: 0.1}, {Kind: SetBrake, Value: 0.3},
		{Kind: SetRoomSize, Value: 4}, {Kind: SetRoomDecay, Value: 0.6}, {Kind: SetRoomDamping, Value: 0.9},
	}
	for i := range list {
		list[i].Frame = from + int64(i)*every
	}
	return list
}

// TestToneChangesWhileItPlays moves every part of the tone under a chord: the
// waveform does not jump, and the engine arrives at the sound of one that was
// made so.
func TestToneChangesWhileItPlays(t *testing.T) {
	wheels := NewWheels(testRate, 0.02)
	c := DefaultConfig()
	c.Click, c.Room.Level, c.Speed = 0, 0.5, Stopped
	chord := []Event{draw(0, Upper, 8, 0, 8), down(0, Upper, 48), down(0, Upper, 57)}
	moved := play(t, c, 8, append(chord, toneChanges(testRate, 4800, wheels)...)...)
	for ch := range 2 {
		if b := bend(side(moved, ch)[9600:]); b > unit/50 {
			t.Errorf("channel %d: the waveform bends by %.6f of full scale in a frame", ch, b)
		}
	}
	made := c
	made.Leakage, made.Partials = 0.02, 0.02
	made.Rotary.Mics, made.Rotary.Brake = Microphones{0.4, 0.1}, 0.3
	made.Room = RoomParams{Size: 4, Decay: 0.6, Damping: 0.9, Level: 0.5}
	want := play(t, made, 8, chord...)
	for ch := range 2 {
		a, b := side(moved, ch)[6*testRate:], side(want, ch)[6*testRate:]
		for _, key := range []float64{36, 48, 57, 45, 47, 58} {
			f := Frequency(key)
			if d := dB(amplitude(a, f, testRate) / amplitude(b, f, testRate)); math.Abs(d) > 0.5 && amplitude(b, f, testRate) > 1e-4 {
				t.Errorf("channel %d, key %g: moved there it sounds %+.2f dB against made so", ch, key, d)
			}
		}
	}
}

// TestToneDoesNotHang changes the leakage under keys that go up afterwards: no
// generator keeps a part of it.
func TestToneDoesNotHang(t *testing.T) {
	var events []Event
	r := rand.New(rand.NewPCG(3, 3))
	for i := range 200 {
		at := int64(i * 400)
		d := Division(r.IntN(Divisions))
		kind := []func(int64, Division, int) Event{down, up}[r.IntN(2)]
		events = append(events, kind(at, d, 36+r.IntN(40)), Event{Frame: at, Kind: SetLeakage, Value: r.Float32() * 0.06})
	}
	events = append([]Event{draw(0, Upper, full...), draw(0, Lower, full...), draw(0, Pedal, 8, 8)}, events...)
	events = append(events, Event{Frame: 200 * 400, Kind: AllNotesOff})
	out := play(t, DefaultConfig(), 200*400.0/testRate+5, events...)
	if tail := out[len(out)-testRate:]; peakOf(tail) != 0 {
		t.Errorf("%g sounds after all keys are up", peakOf(tail))
	}
}

// TestBlocksDoNotMatterToTheTone is TestBlocksDoNotMatter while the tone
// changes.
func TestBlocksDoNotMatterToTheTone(t *testing.T) {
	events := append(everything(), draw(0, Upper, full...), down(0, Upper, 60), down(100, Lower, 50))
	events = append(events, toneChanges(4801, 2403, NewWheels(testRate, 0.01))...)
	want := play(t, DefaultConfig(), 1, events...)
	var e Engine
	if err := e.Init(DefaultConfig()); err != nil {
		t.Fatal(err)
	}
	var got []float32
	rest := events
	for at, n := int64(0), int64(1); len(got) < len(want); at, n = at+n, 1+(n*31)%97 {
		var block []Event
		block, rest = Take(nil, rest, at, at+n)
		out := make([]float32, 2*n)
		e.Render(out, block)
		got = append(got, out...)
	}
	got = got[2*e.Latency():]
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			t.Fatalf("frame %d: %g in small blocks, %g in large ones", i/2, got[i], want[i])
		}
	}
}

// TestBrakeWhileStopped turns resting rotors to another angle.
func TestBrakeWhileStopped(t *testing.T) {
	var e Engine
	c := DefaultConfig()
	c.Speed = Stopped
	if err := e.Init(c); err != nil {
		t.Fatal(err)
	}
	e.Render(make([]float32, 2*64), []Event{{Kind: SetBrake, Value: 0.4}})
	e.Render(make([]float32, 2*20*testRate), nil)
	for name, r := range map[string]*rotor{"horn": &e.speaker.horn, "drum": &e.speaker.drum} {
		if off := math.Abs(math.Remainder(r.turn-0.4, 1)); r.speed != 0 || off > 2*arrived {
			t.Errorf("the %s stands at %.4f with speed %g, want 0.4", name, r.turn, r.speed)
		}
	}
}

// TestToneOutOfRangeIsTamed sends what no control sends.
func TestToneOutOfRangeIsTamed(t *testing.T) {
	events := []Event{draw(0, Upper, full...), down(0, Upper, 60), {Kind: SetRoom, Value: 1}}
	for i, v := range []float32{float32(math.NaN()), float32(math.Inf(1)), float32(math.Inf(-1)), 1e9, -1e9, 0} {
		for k := SetLeakage; k <= SetRoomDamping; k++ {
			events = append(events, Event{Frame: int64(2000 * (i + 1)), Kind: k, Value: v})
		}
	}
	for i, v := range play(t, DefaultConfig(), 1, events...) {
		if !(abs(v) <= Ceiling) {
			t.Fatalf("frame %d: %g", i/2, v)
		}
	}
}

// TestSharedWheels gives engines loops that were made before, and loops of another
// sample rate, which they cannot use.
func TestSharedWheels(t *testing.T) {
	c := DefaultConfig()
	c.Partials = 0.05
	want := play(t, c, 0.2, only(Upper, 2, 8), down(0, Upper, 69))
	for _, rate := range []int{c.SampleRate, 44100} {
		c.Wheels = NewWheels(rate, float64(c.Partials))
		var e Engine
		if err := e.Init(c); err != nil {
			t.Fatal(err)
		}
		if shared := e.bank.Wheels == c.Wheels; shared != (rate == c.SampleRate) {
			t.Errorf("%d Hz: shared %v", rate, shared)
		}
		for i, v := range play(t, c, 0.2, only(Upper, 2, 8), down(0, Upper, 69)) {
			if v != want[i] {
				t.Fatalf("%d Hz: frame %d: %g, want %g", rate, i/2, v, want[i])
			}
		}
	}
}
