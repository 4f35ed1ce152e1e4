package session

import (
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// wide is a session with a pinned block that a small hand cannot take.
func wide(t *testing.T) *Session {
	t.Helper()
	s := New(project.New(), nil)
	if err := s.SetChordText(0, "C6"); err != nil {
		t.Fatal(err)
	}
	if err := s.SetPlan(project.SoloOverComp); err != nil {
		t.Fatal(err)
	}
	for i, key := range []int{79, 76, 72, 79} {
		if err := s.PlaceAt(project.Ticks(i)*project.Quarter, key); err != nil {
			t.Fatal(err)
		}
	}
	var voices []theory.Pitch
	for _, name := range []string{"G5", "E5", "C5", "C4"} {
		voices = append(voices, theory.MustParsePitch(name))
	}
	if err := s.Do(project.SetPin{Voicing: theory.Close, Voices: voices}); err != nil {
		t.Fatal(err)
	}
	small, _ := reach.ProfileByName("small")
	if err := s.SetPlayer(small); err != nil {
		t.Fatal(err)
	}
	if !s.HasFindings() {
		t.Fatal("a twelfth in a small hand has no finding")
	}
	return s
}

func TestApplyingTheFirstRemedyIsOneEdit(t *testing.T) {
	s := wide(t)
	s.StepFinding(1)
	if s.Finding() != 0 {
		t.Fatalf("finding %d, want the first", s.Finding())
	}
	before, f := s.Chart(), s.Reach().Findings[0]
	if note, ok := s.Current(); !ok || s.Chart().Melody[note].Start != project.Ticks(f.Worst) {
		t.Error("walking to a finding did not select its place")
	}
	if err := s.ApplyFirstRemedy(); err != nil {
		t.Fatal(err)
	}
	for _, g := range s.Reach().Findings {
		if g.Kind == f.Kind && g.Limb == f.Limb && g.Severity >= f.Severity && g.At <= f.Until && g.Until >= f.At {
			t.Errorf("%q is still there: %q", f.Text, g.Text)
		}
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("one undo did not take the way out back")
	}
}

func TestRemediesOfAnOldReportAreDropped(t *testing.T) {
	s := wide(t)
	old := s.Reach()
	list := WaysOut(old, 0)
	if err := s.SetTempo(90, 0.5); err != nil {
		t.Fatal(err)
	}
	if s.KeepRemedies(old, 0, list) {
		t.Error("ways out of an overtaken report were kept")
	}
	if _, known := s.KnownRemedies(0); known {
		t.Error("ways out of an overtaken report are shown")
	}
}

func TestThePlayerDecidesWhatCanBePlayed(t *testing.T) {
	s := wide(t)
	before, small, limit := s.Chart(), len(s.Reach().Findings), s.Reach().Findings[0].Limit
	large, _ := reach.ProfileByName("large")
	if err := s.SetPlayer(large); err != nil {
		t.Fatal(err)
	}
	if n := len(s.Reach().Findings); n > small || s.Reach().Findings[0].Limit <= limit {
		t.Errorf("large hands have %d findings, small ones %d", n, small)
	}
	if s.Chart() != before {
		t.Error("another player changed the chart")
	}
	large.Speed = 9
	if err := s.SetPlayer(large); err == nil {
		t.Error("a speed no player has was taken")
	}
}

func TestStretchesNameBothHands(t *testing.T) {
	s := New(project.New(), nil)
	if err := s.SetChordText(0, "Gm6"); err != nil {
		t.Fatal(err)
	}
	if err := s.PlaceAt(0, 74); err != nil {
		t.Fatal(err)
	}
	s.SelectNote(0, false)
	list := s.Stretches()
	if len(list) == 0 || !strings.Contains(list[0].String(), " mm") {
		t.Errorf("stretches %q", list)
	}
}

// TestUndoChoosesTheFindingThatCameBack takes the way out of each finding, back and
// again: the finding it was taken for is chosen.
func TestUndoChoosesTheFindingThatCameBack(t *testing.T) {
	s := wide(t)
	for i, n := 0, len(s.Reach().Findings); i < n; i++ {
		s.PickFinding(i)
		text := s.Reach().Findings[i].Text.String()
		if len(s.Remedies(i)) == 0 {
			continue
		}
		if err := s.ApplyRemedy(i, 0); err != nil {
			t.Fatal(err)
		}
		s.Undo()
		if now := s.Finding(); now < 0 || s.Reach().Findings[now].Text.String() != text {
			t.Errorf("after undo finding %d is chosen, not %q", now, text)
		}
		s.Redo()
		if now := s.Finding(); now >= len(s.Reach().Findings) || now < 0 && s.HasFindings() {
			t.Errorf("after redo finding %d of %d is chosen", now, len(s.Reach().Findings))
		}
		s.Undo()
	}
}
