package session

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

// lineOf tells the melody as "G4 0+1", in quarters.
func lineOf(s *Session) string {
	var words []string
	for _, n := range s.Chart().Melody {
		words = append(words, fmt.Sprintf("%v %.4g+%.4g", n.Pitch, float64(n.Start)/float64(project.Quarter), float64(n.Duration)/float64(project.Quarter)))
	}
	return strings.Join(words, ", ")
}

func strike(t *testing.T, s *Session, at time.Time, keys ...int) {
	t.Helper()
	for _, k := range keys {
		for _, down := range []bool{true, false} {
			if err := s.KeyPlayed(arrange.Upper, k, down, at); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestStepEntry(t *testing.T) {
	s, _ := fresh(t, "Bb")
	now := time.Now()
	strike(t, s, now, 60)
	if len(s.Chart().Melody) != 0 {
		t.Fatal("keys write only in step entry")
	}
	s.ToggleStepEntry()
	strike(t, s, now, 70)
	strike(t, s, now.Add(time.Second), 60, 63, 67) // a chord: the top stays
	s.Rest()
	strike(t, s, now.Add(2*time.Second), 65)
	if got, want := lineOf(s), "Bb4 0+1, G4 1+1, F4 3+1"; got != want {
		t.Errorf("wrote %s, want %s", got, want)
	}
	if err := s.KeyPlayed(arrange.Pedal, 40, true, now.Add(3*time.Second)); err != nil || len(s.Chart().Melody) != 3 {
		t.Error("the pedal plays no melody")
	}
	if h := s.Held(); len(h) != 1 || h[0] != (PlayedKey{arrange.Pedal, 40}) {
		t.Errorf("held: %v", h)
	}
	s.Undo()
	if len(s.Chart().Melody) != 2 {
		t.Error("each note is undone by itself")
	}
}

// recorded plays beats of a bar at 120 to a recording: key, down, up.
func recorded(t *testing.T, s *Session, e *ear, beats ...float64) {
	t.Helper()
	for i := 0; i+2 < len(beats); i += 3 {
		for k, down := range []bool{true, false} {
			e.seconds = beats[i+1+k] * 60 / s.Chart().Tempo
			s.Cursor()
			if err := s.KeyPlayed(arrange.Upper, int(beats[i]), down, s.Now()); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestRecording(t *testing.T) {
	s, e := fresh(t, "C")
	write(t, s, "1cccc") // four bars of whole notes
	s.SetCaret(project.Whole)
	if err := s.ToggleRecord(); err != nil || !s.Recording() || !s.Playing() {
		t.Fatalf("recording: %v", err)
	}
	if p := e.played[len(e.played)-1]; p.CountIn != 1 || !p.Click || p.Loop || p.Performance.Played[0].Bar != 1 {
		t.Errorf("recorded to %+v", p)
	}
	for _, ev := range e.played[len(e.played)-1].Performance.Events {
		if ev.Kind == perform.KeyDown && ev.Layer != arrange.LayerBass && ev.Layer != arrange.LayerComp {
			t.Fatalf("the %v sounds beside what is recorded in its place", ev.Layer)
		}
	}
	before := s.Chart()
	recorded(t, s, e, 67, 0.05, 0.9, 69, 1.1, 2, 71, 1.95, 4)
	if s.Chart() != before || len(s.Recorded()) != 3 {
		t.Fatalf("before the end nothing is written, and %d notes can be seen", len(s.Recorded()))
	}
	e.seconds = 4.3 * 60 / s.Chart().Tempo // a little late for the end of the bar
	s.Cursor()
	if err := s.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	if got, want := lineOf(s), "C5 0+4, G4 4+1, A4 5+1, B4 6+2, C5 8+4, C5 12+4"; got != want {
		t.Errorf("recorded %s, want %s", got, want)
	}
	if s.Recorded() != nil || s.Recording() || s.Playing() || len(s.Selection().Notes) != 3 {
		t.Errorf("after it: recording %v, playing %v, %d selected", s.Recording(), s.Playing(), len(s.Selection().Notes))
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("one undo takes the recording back")
	}
}

func TestARecordingEndsWithTheLoopAndTheSound(t *testing.T) {
	s, e := fresh(t, "C")
	if err := s.SetLoop(2, 3); err != nil {
		t.Fatal(err)
	}
	if err := s.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	recorded(t, s, e, 60, 0, 1, 62, 1, 2)
	e.playing = false
	s.Cursor()
	if got, want := lineOf(s), "C4 8+1, D4 9+1"; got != want || s.Recording() {
		t.Errorf("recorded %s, want %s", got, want)
	}
}

// TestAnEditEndsARecordingFirst keeps what was played when something else is
// changed, and undoes one after the other.
func TestAnEditEndsARecordingFirst(t *testing.T) {
	s, e := fresh(t, "C")
	if err := s.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	recorded(t, s, e, 60, 0, 1)
	if err := s.SetChordText(0, "C6"); err != nil {
		t.Fatal(err)
	}
	if s.Recording() || len(s.Chart().Melody) != 1 || len(s.Chart().Changes) != 1 {
		t.Errorf("recording %v, melody %s", s.Recording(), lineOf(s))
	}
	s.Undo()
	if len(s.Chart().Melody) != 1 || len(s.Chart().Changes) != 0 {
		t.Error("the chord is undone first")
	}
}

func TestRecordingNothing(t *testing.T) {
	s, e := fresh(t, "C")
	before := s.Chart()
	if err := s.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	recorded(t, s, e, 60, -3, -2) // in the count-in
	s.Stop()
	if s.Chart() != before || !strings.Contains(s.Message(), "Nothing") {
		t.Errorf("%s: %s", s.Message(), lineOf(s))
	}
	s.SetCaret(s.Chart().Length())
	if err := s.ToggleRecord(); err == nil || s.Recording() {
		t.Error("there is nothing to record into behind the last bar")
	}
}

func TestTempoAndLayersWaitForTheEndOfARecording(t *testing.T) {
	s, e := fresh(t, "C")
	if err := s.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	n := len(e.played)
	if err := s.SetTempoScale(0.5); err != nil {
		t.Fatal(err)
	}
	if len(e.played) != n || !s.Recording() {
		t.Error("what is recorded to changed under the hands")
	}
}

// TestALastRecordingIsRoundedAnew chooses another grid after a recording: it is
// written again from what was played, and one undo takes it back.
func TestALastRecordingIsRoundedAnew(t *testing.T) {
	s, e := fresh(t, "C")
	before := s.Chart()
	if err := errors.Join(s.SetGrid(perform.Grid{Value: 8}), s.ToggleRecord()); err != nil {
		t.Fatal(err)
	}
	recorded(t, s, e, 60, 0, 0.22, 62, 0.24, 0.5, 64, 0.55, 2)
	s.Stop()
	if got, want := lineOf(s), "D4 0+0.5, E4 0.5+1.5"; got != want {
		t.Fatalf("in eighths %s, want %s", got, want)
	}
	for _, step := range []struct {
		value int
		want  string
	}{{16, "C4 0+0.25, D4 0.25+0.25, E4 0.5+1.5"}, {4, "D4 0+1, E4 1+1"}, {16, "C4 0+0.25, D4 0.25+0.25, E4 0.5+1.5"}} {
		if err := s.SetGrid(perform.Grid{Value: step.value}); err != nil || lineOf(s) != step.want {
			t.Errorf("in 1/%d %s, want %s (%v)", step.value, lineOf(s), step.want, err)
		}
	}
	if err := s.Semitone(1); err != nil {
		t.Fatal(err)
	}
	changed := s.Chart()
	if err := s.SetGrid(perform.Grid{Value: 8}); err != nil || s.Chart() != changed {
		t.Error("a recording that was edited stays as it is")
	}
	s.Undo()
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Errorf("undone: %s", lineOf(s))
	}
}

func TestGrids(t *testing.T) {
	s, _ := fresh(t, "C")
	for _, v := range GridValues {
		for tr := perform.NoTriplets; tr <= perform.AllTriplets; tr++ {
			if err := s.SetGrid(perform.Grid{Value: v, Triplets: tr}); err != nil || s.Grid().Value != v {
				t.Errorf("grid of 1/%d: %v", v, err)
			}
		}
	}
	if s.SetGrid(perform.Grid{Value: 5}) == nil {
		t.Error("a grid of fifths")
	}
}

func TestFadersAreOneEdit(t *testing.T) {
	s, _ := fresh(t, "C")
	before := s.Chart()
	for v := range 8 {
		s.LiveDrawbar(3, v)
		s.LiveDrawbar(19, 8-v)
	}
	s.LiveDrawbar(99, 3)
	if s.Chart() != before || s.LiveRegistration().Upper[3] != 7 || s.LiveRegistration().Pedal[1] != 1 {
		t.Fatalf("moving: %+v", s.LiveRegistration())
	}
	if err := s.KeepDrawbars(); err != nil || s.HasFaders() || s.DrawbarValue(3) != 7 || s.DrawbarValue(19) != 1 {
		t.Fatalf("kept: %v %d", err, s.DrawbarValue(3))
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("one undo takes the movement back")
	}
}

func TestTempoRamp(t *testing.T) {
	s, e := fresh(t, "C")
	if err := s.SetLoop(1, 3); err != nil {
		t.Fatal(err)
	}
	if err := s.SetRamp(Ramp{On: true, From: 0.5, Step: 0.3, To: 1, Times: 2}); err != nil {
		t.Fatal(err)
	}
	if err := s.TogglePlay(); err != nil {
		t.Fatal(err)
	}
	p := e.played[len(e.played)-1]
	if n := len(p.Performance.Played); n != 2*6 {
		t.Fatalf("%d bars are played, want two bars six times", n)
	}
	var tempos []float64
	for _, x := range p.Performance.Tempos {
		tempos = append(tempos, x.Quarters/s.Chart().Tempo)
	}
	if fmt.Sprint(tempos) != "[0.5 0.8 1]" {
		t.Errorf("tempos %v", tempos)
	}
	if want := p.Performance.Duration - 8*60/s.Chart().Tempo; !p.Loop || math.Abs(p.LoopFrom-want) > 1e-9 {
		t.Errorf("the last pass loops from %v, want %v", p.LoopFrom, want)
	}
	e.seconds = p.Performance.Played[5].Seconds // in the third pass
	if s.Cursor(); s.PlayedScale() != 0.8 {
		t.Errorf("the third pass is heard at %v", s.PlayedScale())
	}
	if err := s.ToggleMute(arrange.LayerBass); err != nil { // goes on where it was
		t.Fatal(err)
	}
	if p := e.played[len(e.played)-1]; !p.Resume || len(p.Performance.Played) != 2*4 || p.Performance.Tempos[0].Quarters != 0.8*s.Chart().Tempo {
		t.Errorf("after a change: %d bars at %v", len(p.Performance.Played), p.Performance.Tempos)
	}
	if err := s.ToggleRamp(); err != nil || s.PlayedScale() != 1 {
		t.Errorf("off again: %v %v", err, s.PlayedScale())
	}
}

func TestRampsThatDoNotRise(t *testing.T) {
	s, _ := fresh(t, "C")
	for _, r := range []Ramp{{From: 1, Step: 0.1, To: 0.9, Times: 1}, {From: 0.1, Step: 0.1, To: 1, Times: 1}, {From: 0.5, Step: 0, To: 1, Times: 1},
		{From: 0.5, Step: 0.1, To: 1, Times: 0}, {From: math.NaN(), Step: 0.1, To: 1, Times: 1}} {
		if s.SetRamp(r) == nil {
			t.Errorf("%+v is accepted", r)
		}
	}
	if err := s.ToggleRamp(); err != nil {
		t.Fatal(err)
	}
	if _, _, on := s.Loop(); !on {
		t.Error("a ramp without a loop loops what is selected")
	}
}
