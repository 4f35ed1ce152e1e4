package player

import (
	"math"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// TestDefaultToneIsTheInstruments pins the figures that project and synth both
// hold.
func TestDefaultToneIsTheInstruments(t *testing.T) {
	c := synth.DefaultConfig()
	got := configured(c, project.DefaultTone())
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	if got.Click != c.Click || got.Leakage != c.Leakage || got.Partials != c.Partials || !near(got.Rotary.Brake, c.Rotary.Brake) ||
		!near(got.Rotary.Mics.Distance, c.Rotary.Mics.Distance) || !near(got.Rotary.Mics.Angle, c.Rotary.Mics.Angle) ||
		!near(got.Room.Size, c.Room.Size) || !near(got.Room.Decay, c.Room.Decay) || !near(got.Room.Damping, c.Room.Damping) {
		t.Errorf("the default tone gives %+v, the instrument has %+v", got, c)
	}
	if project.MaxLeakage != synth.MaxLeakage || project.MaxPartials != synth.MaxPartials {
		t.Error("the limits differ")
	}
	for _, extreme := range []project.Tone{
		{MicDistance: project.MinMicDistance, RoomSize: project.MinRoomSize, Decay: project.MinDecay},
		{Click: 1, Leakage: project.MaxLeakage, Partials: project.MaxPartials, MicDistance: project.MaxMicDistance, MicAngle: project.MaxMicAngle,
			StopAngle: 359, RoomSize: project.MaxRoomSize, Decay: project.MaxDecay, Damping: 1},
	} {
		var e synth.Engine
		if err := e.Init(configured(c, extreme)); err != nil {
			t.Errorf("the instrument refuses a tone that a chart may have: %v", err)
		}
	}
}

// TestSetTone gives a player a tone while it is silent and compares what it
// plays then with an instrument made so.
func TestSetTone(t *testing.T) {
	tone := project.DefaultTone()
	tone.Click, tone.Leakage, tone.MicDistance, tone.RoomSize, tone.Damping = 1, 0.03, 0.5, 5, 0.2
	play := func(set bool) []float32 {
		c := configured(synth.DefaultConfig(), project.DefaultTone())
		if !set {
			c = configured(c, tone)
		}
		var e synth.Engine
		if err := e.Init(c); err != nil {
			t.Fatal(err)
		}
		events := []synth.Event{}
		if set {
			events = toneEvents(tone)
		}
		e.Render(make([]float32, 2*4*second), events)
		out := make([]float32, 2*second)
		e.Render(out, []synth.Event{
			{Kind: synth.SetDrawbars, Drawbars: synth.Drawbars{8, 8, 8}}, {Kind: synth.SetRoom, Value: 0.5},
			{Kind: synth.KeyDown, Key: 60}, {Kind: synth.KeyDown, Key: 64}})
		return out
	}
	got, want := play(true), play(false)
	for i := range got {
		if math.Abs(float64(got[i]-want[i])) > 1e-6 {
			t.Fatalf("frame %d: %g set so, %g made so", i/2, got[i], want[i])
		}
	}
}

// TestSetPartials changes the waves of a player and waits for the second
// partial, which the flute has none of.
func TestSetPartials(t *testing.T) {
	p, pull := pulled(t)
	p.SetRegistration(&flute)
	p.KeyDown(arrange.Upper, 60)
	pull(second / 2)
	before := strength(pull(second/2), 72)
	tone := project.DefaultTone()
	tone.Partials = 0.1
	p.SetTone(tone)
	for range 200 {
		time.Sleep(10 * time.Millisecond)
		if after := strength(pull(second/2), 72); after > 10*before && after > 1e-4 {
			return
		}
	}
	t.Errorf("no second partial is heard; %g before", before)
}
