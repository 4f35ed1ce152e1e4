package player

import (
	"errors"
	"runtime"
	"slices"
	"testing"
	"time"

	"organbook/internal/synth"
)

// wildJob is half a minute of chords with everything that moves on the move.
func wildJob() synth.Job {
	events := []synth.Event{
		{Kind: synth.SetDrawbars, Division: synth.Upper, Drawbars: synth.Drawbars{8, 8, 8, 4, 3, 2, 1, 5, 8}},
		{Kind: synth.SetDrawbars, Division: synth.Pedal, Drawbars: synth.Drawbars{8, 6}},
	}
	for i := range int64(120) {
		at, on := i*second/4+i%7, i%2 == 0
		move := synth.Event{Frame: at, Kind: synth.KeyDown}
		if !on {
			move.Kind = synth.KeyUp
		}
		for k := range uint8(5) {
			move.Key, move.Division = 40+k*7+uint8(i/2%5), synth.Division(k%synth.Divisions)
			events = append(events, move)
		}
		part := float32(i%9) / 8
		events = append(events,
			synth.Event{Frame: at, Kind: synth.SetRotary, Rotary: synth.Speed(i % 3)},
			synth.Event{Frame: at + 1, Kind: synth.SetSwell, Value: part},
			synth.Event{Frame: at + 2, Kind: synth.SetDrive, Value: part},
			synth.Event{Frame: at + 2, Kind: synth.SetVibrato, Division: synth.Lower, Vibrato: synth.Vibrato(i % 7)},
			synth.Event{Frame: at + 3, Kind: synth.SetMaster, Value: 1 - part/2},
			synth.Event{Frame: at + 4, Kind: synth.SetRoom, Value: part},
			synth.Event{Frame: at + 5, Kind: synth.Tick, Value: part})
	}
	return synth.Job{Config: synth.DefaultConfig(), Events: events, Frames: 31 * second}
}

// TestPipelineEqualsOneThread compares every sample, and what Progress is told.
func TestPipelineEqualsOneThread(t *testing.T) {
	type result struct {
		sound []float32
		told  []int64
	}
	render := func(with func(synth.Job) error) (r result) {
		j := wildJob()
		j.Write = func(x []float32) error { r.sound = append(r.sound, x...); return nil }
		j.Progress = func(done, total int64) { r.told = append(r.told, done, total) }
		if err := with(j); err != nil {
			t.Fatal(err)
		}
		return r
	}
	want, got := render(synth.Offline), render(pipeline)
	if len(want.sound) != 2*31*second || slices.Max(want.sound) < 0.1 {
		t.Fatalf("%d samples up to %g: there is nothing to compare", len(want.sound), slices.Max(want.sound))
	}
	if !slices.Equal(got.told, want.told) {
		t.Error("progress differs")
	}
	for i := range want.sound {
		if i >= len(got.sound) || got.sound[i] != want.sound[i] {
			t.Fatalf("frame %d of %d differs", i/2, len(want.sound)/2)
		}
	}
}

// TestPipelineStops checks that nothing is written after a failure or once it
// is cancelled, that the caller is told why, and that no goroutine stays.
func TestPipelineStops(t *testing.T) {
	before := runtime.NumGoroutine()
	for name, stop := range map[string]struct {
		write, cancel int // after how many blocks
		want          error
	}{"failed write": {3, 1000, errBroken}, "cancelled": {1000, 3, synth.ErrCancelled}, "at once": {1000, 0, synth.ErrCancelled}} {
		blocks := 0
		j := wildJob()
		j.Write = func([]float32) error {
			if blocks++; blocks == stop.write {
				return errBroken
			}
			return nil
		}
		j.Cancelled = func() bool { return blocks == stop.cancel }
		if err := pipeline(j); !errors.Is(err, stop.want) || blocks != min(stop.write, stop.cancel) {
			t.Errorf("%s: %d blocks and %v", name, blocks, err)
		}
	}
	for i := 0; runtime.NumGoroutine() > before; i++ {
		if i == 1000 {
			t.Fatalf("%d goroutines, %d before", runtime.NumGoroutine(), before)
		}
		time.Sleep(time.Millisecond)
	}
}

// TestPipelineRefuses wants the engine's complaint about its settings.
func TestPipelineRefuses(t *testing.T) {
	j := wildJob()
	j.Config.SampleRate = 1
	if err := pipeline(j); err == nil {
		t.Error("a sample rate of 1 is accepted")
	}
}
