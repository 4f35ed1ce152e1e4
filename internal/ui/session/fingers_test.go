package session

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
)

// fingered is a session on a block in the right hand and its lead in the left.
func fingered(t *testing.T) *Session {
	t.Helper()
	s := New(project.New(), nil)
	if err := s.SetChordText(0, "Gm6"); err != nil {
		t.Fatal(err)
	}
	if err := s.SetPlan(project.Shout); err != nil {
		t.Fatal(err)
	}
	if err := s.PlaceAt(0, 74); err != nil {
		t.Fatal(err)
	}
	s.SelectNote(0, false)
	return s
}

func TestOwnFingersAreKeptSavedAndTakenBack(t *testing.T) {
	s := fingered(t)
	before, keys := s.Chart(), s.FingerKeys()
	if len(keys) < 4 || keys[0].Key != 74 || keys[0].Own {
		t.Fatalf("keys %+v", keys)
	}
	s.PickFinger(s.PickedFinger() + 1)
	own := keys[1].Finger%5 + 1
	if err := s.SetFinger(own); err != nil {
		t.Fatal(err)
	}
	if k := s.FingerKeys()[1]; k.Finger != own || !k.Own || s.Chart().FingerOf(0, k.Key) != own {
		t.Errorf("the second key is %+v, not finger %d of one's own", k, own)
	}
	if s.PickedFinger() != 1 {
		t.Errorf("after the edit key %d is picked", s.PickedFinger())
	}
	if err := s.ClearFingers(); err != nil || s.HasOwnFingers() {
		t.Errorf("cleared: %v, %+v", err, s.FingerKeys())
	}
	s.Undo()
	if s.FingerKeys()[1].Finger != own {
		t.Error("undo did not bring the finger back")
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("undo did not take the finger back")
	}
	if err := s.SetFinger(0); err == nil {
		t.Error("a finger that was never given was taken back")
	}
}

func TestAChartsOwnPlayer(t *testing.T) {
	s := fingered(t)
	before, usual := s.Chart(), s.Player()
	p := usual
	p.Name, p.Hands[0].Maximal = "own", p.Hands[0].Maximal+5
	if err := s.SetOwnPlayer(p); err != nil {
		t.Fatal(err)
	}
	if s.Performer() != p || s.Player() != usual || !s.HasOwnPlayer() {
		t.Errorf("the chart is for %+v; others for %+v", s.Performer(), s.Player())
	}
	if err := s.DropOwnPlayer(); err != nil || s.Performer() != usual {
		t.Errorf("%v; the chart is for %+v", err, s.Performer())
	}
	s.Undo()
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("undo left a player in the chart")
	}
}

func TestTheBenchTellsHowFeetTakeTheirPedals(t *testing.T) {
	s := fingered(t)
	if err := s.SetBass(project.BassRoots); err != nil {
		t.Fatal(err)
	}
	s.SelectNote(0, false)
	text := fmt.Sprint(s.Touches())
	if !strings.Contains(text, "foot takes G") || !strings.Contains(text, "with the toe") {
		t.Errorf("of the feet the bench says %q", text)
	}
}
