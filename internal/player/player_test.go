package player

import (
	"math"
	"testing"

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
	for i := range min(len(live), len(file)) {
		if live[i] != file[i] {
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
