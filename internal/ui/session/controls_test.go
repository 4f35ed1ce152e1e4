package session

import (
	"math"
	"testing"

	"organbook/internal/project"
)

// TestControls turns every control to each end and back by steps, takes it
// back, and reads what it says.
func TestControls(t *testing.T) {
	s, _ := fresh(t, "C major")
	ids := map[string]bool{}
	for i := range Controls {
		c := &Controls[i]
		if ids[c.ID] || c.Name == "" || c.Hint == "" || c.OfChart != (i >= Effects) {
			t.Errorf("control %q: its ID twice, no name or hint, or on the wrong side", c.ID)
		}
		ids[c.ID] = true
		start := s.Value(c)
		if start != c.held(start) {
			t.Errorf("%s stands at %v, between its steps", c.ID, start)
		}
		for _, end := range []float64{c.Most + 1, c.Least - 1} {
			if err := s.Set(c, end); err != nil {
				t.Fatalf("%s to %v: %v", c.ID, end, err)
			}
			want := min(max(end, c.Least), c.Most)
			if got := s.Value(c); got != want || c.Says(got) == "" || c.At(c.Part(got)) != got {
				t.Errorf("%s set to %v: %v, %q, and back through its part %v", c.ID, end, got, c.Says(got), c.At(c.Part(got)))
			}
		}
		steps := 0
		for ; s.Value(c) < c.Most && steps < 200; steps++ {
			if err := s.Turn(c, 1); err != nil {
				t.Fatalf("%s up: %v", c.ID, err)
			}
		}
		if steps < 1 || steps > 60 {
			t.Errorf("%s takes %d steps from end to end", c.ID, steps)
		}
		for s.CanUndo() && s.Value(c) != start {
			s.Undo()
		}
		if s.Value(c) != start {
			t.Errorf("%s stands at %v after undoing, %v before", c.ID, s.Value(c), start)
		}
	}
}

// TestToneReachesTheSound checks that what is heard follows the chart: on the
// way, when set, when undone, and when another chart is opened.
func TestToneReachesTheSound(t *testing.T) {
	s, e := fresh(t, "C major")
	last := func() project.Tone { return e.tones[len(e.tones)-1] }
	click := &Controls[Effects]
	if click.ID != "tone.click" {
		t.Fatalf("the first part of the tone is %s", click.ID)
	}
	s.Try(click, 0.9)
	if math.Abs(last().Click-0.9) > 1e-9 || s.HasTone() {
		t.Errorf("tried: %v is heard, the chart keeps it: %v", last().Click, s.HasTone())
	}
	if err := s.Set(click, 0.8); err != nil || last().Click != 0.8 || s.Chart().Tone == nil {
		t.Errorf("set: %v, %v heard", err, last().Click)
	}
	s.Undo()
	if last() != project.DefaultTone() {
		t.Errorf("undone: %+v is heard", last())
	}
	s.Redo()
	if err := s.ResetTone(); err != nil || s.HasTone() || last() != project.DefaultTone() {
		t.Errorf("reset: %v, %+v is heard", err, last())
	}
	own := project.New()
	tone := project.DefaultTone()
	tone.RoomSize = 20
	own.Tone = &tone
	s.Open(own, "")
	if last() != tone {
		t.Errorf("opened: %+v is heard", last())
	}
}

// TestStops walks over drawbars and effects.
func TestStops(t *testing.T) {
	s, _ := fresh(t, "C major")
	s.StepStop(-1)
	if i, ok := s.Drawbar(); !ok || i != Drawbars-1 {
		t.Errorf("without effects the last stop is %d, a drawbar: %v", i, ok)
	}
	s.ShowEffects(true)
	if i, ok := s.Control(); !ok || i != 0 {
		t.Errorf("opened, stop %d of the effects has the keyboard: %v", i, ok)
	}
	s.StepStop(-1)
	if i, ok := s.Drawbar(); !ok || i != Drawbars-1 {
		t.Errorf("before the first effect comes %d, a drawbar: %v", i, ok)
	}
	s.StepStop(1)
	if i, ok := s.Control(); !ok || i != 0 {
		t.Errorf("after the last drawbar comes %d, an effect: %v", i, ok)
	}
	if err := s.TurnStop(1); err != nil || s.Heard().Registration.Accent.Pitch != project.AccentOctave {
		t.Errorf("one step on: %v, accent %v", err, s.Heard().Registration.Accent.Pitch)
	}
	s.StepStop(-1)
	before := s.DrawbarValue(Drawbars - 1)
	if err := s.TurnStop(-1); err != nil || s.DrawbarValue(Drawbars-1) != max(before-1, 0) {
		t.Errorf("drawbar in by one: %v, %d", err, s.DrawbarValue(Drawbars-1))
	}
	s.PickControl(3)
	s.ShowEffects(false)
	if i, ok := s.Drawbar(); !ok || i != 0 {
		t.Errorf("with the effects hidden, stop %d has the keyboard, a drawbar: %v", i, ok)
	}
}

// TestAPracticeTempoEndsWithItsChart: the next chart is played as it is written.
func TestAPracticeTempoEndsWithItsChart(t *testing.T) {
	s := New(project.New(), nil)
	if err := s.SetTempoScale(0.6); err != nil {
		t.Fatal(err)
	}
	ramp := Ramp{On: true, From: 0.5, Step: 0.1, To: 0.9, Times: 2}
	if err := s.SetRamp(ramp); err != nil {
		t.Fatal(err)
	}
	s.Open(project.New(), "")
	if s.TempoScale() != 1 || s.PlayedScale() != 1 || s.Ramp().On {
		t.Errorf("scale %v, ramp %+v", s.TempoScale(), s.Ramp())
	}
}

// TestStopsMakeARegistration: drawbars and effects take a registration its name,
// and give it back when they are as they were; speaker and swell are played.
func TestStopsMakeARegistration(t *testing.T) {
	s := New(project.New(), nil)
	name := s.Heard().Registration.Name
	for _, tc := range []struct {
		what     string
		do, undo func() error
		marked   bool
	}{
		{"a drawbar", func() error { return s.SetDrawbar(2, 1) }, func() error { return s.SetDrawbar(2, 6) }, true},
		{"drive", func() error { return s.SetDrive(0.7) }, func() error { return s.SetDrive(0) }, true},
		{"room", func() error { return s.SetRoom(0.9) }, func() error { return s.SetRoom(0.3) }, true},
		{"the accent", s.NextAccent, func() error { return s.SetAccent(project.Accent{}) }, true},
		{"the speaker", s.NextRotary, func() error { return s.SetRotary(project.RotarySlow) }, false},
		{"the swell", func() error { return s.SetSwell(0.1) }, func() error { return s.SetSwell(0.65) }, false},
		{"the swell at the end", func() error { return s.ChangeSwellAtEnd(0.2) }, func() error { return s.ChangeSwellAtEnd(-0.2) }, false},
	} {
		if err := tc.do(); err != nil {
			t.Fatal(err)
		}
		if got := s.Heard().Registration.Name; (got != name) != tc.marked {
			t.Errorf("%s: the registration is called %q", tc.what, got)
		}
		if err := tc.undo(); err != nil {
			t.Fatal(err)
		}
		if got := s.Heard().Registration; got.Name != name {
			t.Errorf("%s as it was: the registration is called %q", tc.what, got.Name)
		}
	}
}

// TestStopsOfAConsoleWithoutPedals walks past the drawbars that are not there, and
// turns none that nobody sees.
func TestStopsOfAConsoleWithoutPedals(t *testing.T) {
	s, _ := fresh(t, "C major")
	s.PickDrawbar(Drawbars - 1)
	if err := s.SetConsole("single"); err != nil {
		t.Fatal(err)
	}
	before := s.Heard().Registration
	if err := s.TurnStop(1); err != nil || s.Heard().Registration.Pedal != before.Pedal || s.Heard().Registration.Upper == before.Upper {
		t.Errorf("after the pedals are gone: %v, pedal %v, upper %v", err, s.Heard().Registration.Pedal, s.Heard().Registration.Upper)
	}
	if s.PickDrawbar(18); s.stop != 0 {
		t.Errorf("stop %d was picked", s.stop)
	}
	for _, step := range []struct {
		effects  bool
		by, want int
	}{{false, -1, 17}, {false, 1, 0}, {true, -1, 17}, {true, 1, Drawbars}, {true, len(Controls), 0}, {true, -1, Drawbars + len(Controls) - 1}, {true, 1, 0}} {
		if step.effects != s.EffectsShown() { // showing them goes to the first
			s.ShowEffects(step.effects)
		}
		if s.StepStop(step.by); s.stop != step.want {
			t.Errorf("by %d, effects shown %v: stop %d, want %d", step.by, step.effects, s.stop, step.want)
		}
	}
}
