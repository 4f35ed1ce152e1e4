package session

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

func TestPassagesAndRegistration(t *testing.T) {
	s, _ := fresh(t, "C major")
	s.SetCaret(s.Chart().BarStart(4))
	if !s.CanSplitPassage() {
		t.Fatal("a passage can start at bar 5")
	}
	for _, step := range []func() error{
		s.SplitPassage, func() error { return s.RenamePassage("Bridge") }, func() error { return s.SetVoicing(theory.Drop2) },
		func() error { return s.SetPlan(project.TwoHandBlock) }, func() error { return s.SetBass(project.BassTwoFeel) },
		s.ToggleTwoFive, func() error { return s.ShiftLead(1) }, func() error { return s.SetDrawbar(12, 7) },
		s.NextRotary, func() error { return s.ChangeSwell(0.1) },
	} {
		if err := step(); err != nil {
			t.Fatal(err)
		}
	}
	p, before := s.Passage(), s.Chart().Passages[0]
	if p.Name != "Bridge" || p.Treatment != (project.Treatment{Voicing: theory.Drop2, TwoFiveAsFive: true, LeadOctave: 1}) ||
		p.Plan != project.TwoHandBlock || p.Bass != project.BassTwoFeel || p.Registration.Lower[3] != 7 {
		t.Errorf("passage %+v", p)
	}
	if before.Treatment.Voicing != theory.Close || before.Plan != project.Shout {
		t.Errorf("the first passage is untouched: %+v", before)
	}
	if err := s.JoinPassage(); err != nil || len(s.Chart().Passages) != 1 {
		t.Errorf("join: %v", err)
	}
}

func TestBarsAndMarks(t *testing.T) {
	s, _ := fresh(t, "C major")
	s.SelectBars(2, 3)
	for _, step := range []func() error{
		s.ToggleRepeatStart, s.ToggleRepeatEnd, func() error { return s.SetSection("B") }, s.InsertBars, s.RemoveBars,
		func() error { return s.SetMeter(project.Meter{Beats: 3, Unit: 4}) },
		func() error { return s.SetTempo(96, 0.6) },
		func() error { return s.SetHead("A Tune", "Somebody", "short") },
	} {
		if err := step(); err != nil {
			t.Fatal(err)
		}
		if err := s.Chart().Check(); err != nil {
			t.Fatal(err)
		}
	}
	c := s.Chart()
	if c.Title != "A Tune" || c.Console != "short" || c.Swing != 0.6 || c.Bars[2].Section != "B" || !c.Bars[2].RepeatStart || !c.Bars[3].RepeatEnd {
		t.Errorf("chart %q %q %v %+v", c.Title, c.Console, c.Swing, c.Bars[2:4])
	}
	if c.Bars[2].Meter != (project.Meter{Beats: 3, Unit: 4}) || c.Bars[7].Meter != c.Bars[2].Meter || c.Bars[1].Meter != project.CommonTime {
		t.Errorf("meters %v", c.Bars)
	}
	if err := s.SetMeter(project.Meter{Beats: 3, Unit: 5}); err == nil {
		t.Error("3/5 is no meter")
	}
	if err := s.SetEnding("x"); err == nil {
		t.Error("x is no pass")
	}
}

// TestPickupFromText gives a chart a pick-up as the form does, and takes back
// all of it.
func TestPickupFromText(t *testing.T) {
	s, _ := fresh(t, "C major")
	before := s.Chart()
	for _, tc := range []struct {
		text, want string
		bars       int
	}{{"1", "1", 9}, {"1,5", "1.5", 9}, {" 2 ", "2", 9}, {"0", "0", 8}} {
		if err := s.SetPickup(tc.text); err != nil {
			t.Fatal(err)
		}
		if s.Pickup() != tc.want || len(s.Chart().Bars) != tc.bars || s.Selection().Caret != 0 {
			t.Errorf("%q: %s beats, %d bars, caret %d", tc.text, s.Pickup(), len(s.Chart().Bars), s.Selection().Caret)
		}
	}
	for _, bad := range []string{"", "x", "4", "-1", "NaN", "1e99"} {
		if err := s.SetPickup(bad); err == nil {
			t.Errorf("a pick-up of %q was taken", bad)
		}
	}
	for range 4 {
		s.Undo()
	}
	if !s.Chart().Equal(before) {
		t.Error("undo did not lead back")
	}
}

func TestTransposeTakesTheSmallerWay(t *testing.T) {
	for _, tc := range []struct {
		to      string
		octaves int
		want    string
	}{{"D minor", 0, "D4"}, {"F minor", 0, "F4"}, {"A minor", 0, "A4"}, {"G minor", 1, "G5"}, {"F minor", -1, "F3"}} {
		s, _ := fresh(t, "G minor")
		write(t, s, "g")
		if err := s.Transpose(theory.MustParseKey(tc.to), tc.octaves); err != nil {
			t.Fatal(err)
		}
		if got := s.Chart().Melody[0].Pitch.String(); got != tc.want {
			t.Errorf("to %s %+d: %s, want %s", tc.to, tc.octaves, got, tc.want)
		}
	}
}

func TestBenchWalksPinsAndUnpins(t *testing.T) {
	s, e := fresh(t, "G minor")
	s.SetChordText(0, "D7b9")
	s.SetChordText(project.Whole, "Gm6")
	write(t, s, "2b")
	s.SelectNote(0, false)
	list, at := s.Alternatives()
	if len(list) < 2 {
		t.Fatalf("%d alternatives", len(list))
	}
	before := len(e.heard)
	s.WalkAlternatives(1)
	shown, _ := s.Shown()
	if len(e.heard) != before+1 || len(e.heard[before]) != len(list[at+1].Voices) {
		t.Errorf("walking sounds the alternative: %v", e.heard)
	}
	if err := s.Pin(); err != nil {
		t.Fatal(err)
	}
	step, _ := s.Step()
	if !step.Pinned || !sameVoices(step.Block, shown) {
		t.Errorf("pinned %+v, shown %+v", step, shown)
	}
	s.SetVoicing(theory.Drop2)
	if step, _ := s.Step(); !sameVoices(step.Block, shown) {
		t.Error("a pin outlives another treatment")
	}
	if err := s.Unpin(); err != nil || s.IsPinned() {
		t.Errorf("unpin: %v", err)
	}
	s.Undo()
	if !s.IsPinned() {
		t.Error("undo puts the pin back")
	}
}

func TestTransport(t *testing.T) {
	s, e := fresh(t, "C major")
	write(t, s, "cdefgabc")
	s.SetCaret(project.Whole)
	if err := s.TogglePlay(); err != nil || !s.Playing() {
		t.Fatalf("play: %v", err)
	}
	if got := e.played[0].From; got < 1.99 || got > 2.01 { // one bar at 120
		t.Errorf("plays from %v s", got)
	}
	e.seconds = 3
	if at, playing := s.Cursor(); !playing || at != project.Whole+2*project.Quarter {
		t.Errorf("cursor at %d %v", at, playing)
	}
	if err := s.SetVoicing(theory.Drop3); err != nil || len(e.played) != 2 || !e.played[1].Resume {
		t.Errorf("an edit is taken up while playing: %d plays", len(e.played))
	}
	s.SelectBars(1, 2)
	s.ToggleLoop()
	last := e.played[len(e.played)-1]
	if !last.Loop || len(last.Performance.Played) != 2 {
		t.Errorf("loop: %+v", last)
	}
	s.ChangeTempoScale(-0.5)
	if d := e.played[len(e.played)-1].Performance.Duration; d < 7.9 || d > 8.1 {
		t.Errorf("half tempo: two bars last %v s", d)
	}
	s.ToggleMute(arrange.LayerBass)
	for _, ev := range e.played[len(e.played)-1].Performance.Events {
		if ev.Layer == arrange.LayerBass && ev.Division == arrange.Pedal && ev.Key > 0 {
			t.Fatal("a muted layer is not performed")
		}
	}
	e.playing = false
	if _, playing := s.Cursor(); playing || s.Playing() {
		t.Error("the end of the sound ends the transport")
	}
	s.SetLevel(10)
	if s.Level() != 0 {
		t.Error("the level stays at or below full")
	}
}

// TestPassagesWithoutANameAreKnownByTheirBars splits the first bar off.
func TestPassagesWithoutANameAreKnownByTheirBars(t *testing.T) {
	s, _ := fresh(t, "C")
	s.SetCaret(project.Whole)
	if err := s.SplitPassage(); err != nil {
		t.Fatal(err)
	}
	if a, b := s.PassageTitle(0), s.PassageTitle(1); a != "Bar 1" || b != "Bars 2–8" {
		t.Errorf("the passages are %q and %q", a, b)
	}
}
