package player

import (
	"math"
	"slices"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/synth"
)

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
	gap := math.Inf(1)
	for range 15 { // milliseconds
		gap = min(gap, rmsOf(take(second/1000)))
	}
	if gap > before/30 {
		t.Errorf("the same block again has no new attack: %.5f in the gap, %.5f before", gap, before)
	}
	if again := rmsOf(take(second / 500)); again < before/3 {
		t.Errorf("the same block again is at %.5f after 15 ms, %.5f before", again, before)
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

// TestAuditionLeavesTheScoresStops auditions with other stops while playing.
func TestAuditionLeavesTheScoresStops(t *testing.T) {
	p, take := pulled(t)
	p.Load(melody(t))
	p.Play(0)
	take(second / 4)
	high := flute
	high.Upper = project.Drawbars{0, 0, 0, 8} // 4′, an octave up
	p.Audition([]Key{{arrange.Upper, 64}}, &high, time.Second)
	take(second / 4)
	expect(t, "beside the score", take(second/2), 60, 64, 48)
	p.Stop()
	take(second)
	p.Audition([]Key{{arrange.Upper, 64}}, &high, time.Second)
	take(second / 4)
	expect(t, "alone", take(second/2), 76)
}

// TestRegistrationsAreSensible plays a block with its bass in every built-in
// registration: the softest is a section of the band beside the loudest, 15 dB
// under it at most, and none is near the ceiling.
func TestRegistrationsAreSensible(t *testing.T) {
	softest, loudest := 0.0, -100.0
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
		if level < -30.5 || level > -15 || peak > -1.5 {
			t.Errorf("%s: %.1f dBFS RMS, peak %.1f", r.Name, level, peak)
		}
		softest, loudest = min(softest, level), max(loudest, level)
	}
	if loudest-softest > 15 {
		t.Errorf("the loudest lies %.1f dB over the softest", loudest-softest)
	}
}
