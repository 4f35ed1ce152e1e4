package session

import (
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// twoBars is a session on a line over two chords.
func twoBars(t *testing.T) (*Session, *ear) {
	t.Helper()
	s, e := fresh(t, "C major")
	c := *s.Chart()
	c.Bars = c.Bars[:2]
	c.Changes = []project.Change{{Start: 0, Chord: theory.MustParseChord("Dm7")}, {Start: project.Whole, Chord: theory.MustParseChord("G7")}}
	for i, p := range []string{"D5", "E5", "F5", "A5", "G5", "F5", "D5", "B4"} {
		at := project.Ticks(i) * project.Quarter
		c.Melody = append(c.Melody, project.Note{Start: at, Duration: project.Quarter, Pitch: theory.MustParsePitch(p)})
	}
	s.Open(&c, "")
	return s, e
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// TestTakesOfAPassage makes, names, switches and deletes takes and undoes it all.
func TestTakesOfAPassage(t *testing.T) {
	s, _ := twoBars(t)
	first := s.Chart()
	if s.HasTakes() {
		t.Error("a new chart has takes")
	}
	must(t, s.MakeTake())
	must(t, s.RenameTake("Brass"))
	must(t, s.SetVoicing(theory.Drop2))
	names, inUse := s.Takes()
	if strings.Join(names, ",") != "Take 1,Brass" || inUse != 1 {
		t.Fatalf("takes %v, %d in use", names, inUse)
	}
	must(t, s.StepTake(1))
	if s.TakeName() != "Take 1" || s.Passage().Treatment.Voicing != theory.Close || s.Message() != "Now Take 1." {
		t.Errorf("the first take is %q in %v: %s", s.TakeName(), s.Passage().Treatment.Voicing, s.Message())
	}
	must(t, s.DropTake())
	if s.TakeName() != "Brass" || s.HasTakes() {
		t.Errorf("after deleting the first, %q is in use", s.TakeName())
	}
	for s.CanUndo() {
		s.Undo()
	}
	if !s.Chart().Equal(first) {
		t.Error("undoing does not bring the first chart back")
	}
}

// TestSurpriseMakesTakes asks for surprises until there are no more.
func TestSurpriseMakesTakes(t *testing.T) {
	s, _ := twoBars(t)
	must(t, s.Surprise())
	if s.TakeName() == "" || !strings.HasPrefix(s.Message(), "New take, "+s.TakeName()+": ") {
		t.Errorf("take %q: %s", s.TakeName(), s.Message())
	}
	seen := map[project.Treatment]bool{}
	for range 3 {
		must(t, s.Surprise())
		if tr := s.Passage().Treatment; seen[tr] {
			t.Errorf("the same take twice: %+v", tr)
		} else {
			seen[tr] = true
		}
	}
}

// TestComparingTakesAlternates plays one take, then the other, then the first.
func TestComparingTakesAlternates(t *testing.T) {
	s, e := twoBars(t)
	if s.CompareTakes() == nil {
		t.Error("one take can be compared")
	}
	must(t, s.MakeTake())
	must(t, s.SetVoicing(theory.Drop2))
	chart := s.Chart()
	must(t, s.CompareTakes())
	var names []string
	for _, seconds := range []float64{0.2, 2, 0.1, 1.5, 0.1, 1} {
		e.seconds = seconds
		s.Cursor()
		name, _ := s.Comparing()
		names = append(names, name)
	}
	if got := strings.Join(names, ","); got != "Take 1,Take 1,Take 2,Take 2,Take 1,Take 1" {
		t.Errorf("heard %s", got)
	}
	if len(e.played) != 3 || !e.played[1].Loop || !e.played[1].Resume || s.Chart() != chart {
		t.Errorf("played %d times, the chart is still itself: %v", len(e.played), s.Chart() == chart)
	}
	must(t, s.CompareTakes())
	if _, on := s.Comparing(); on || s.Playing() {
		t.Error("comparing does not stop")
	}
}

// TestComparingLeavesTheLoopAsItWas compares without a loop, with one, and with one
// that is set meanwhile.
func TestComparingLeavesTheLoopAsItWas(t *testing.T) {
	s, _ := twoBars(t)
	must(t, s.MakeTake())
	for _, c := range []struct{ before, meanwhile, after [2]int }{
		{}, {before: [2]int{1, 2}, after: [2]int{1, 2}}, {meanwhile: [2]int{0, 1}, after: [2]int{0, 1}},
	} {
		must(t, s.SetLoop(c.before[0], c.before[1]))
		must(t, s.CompareTakes())
		if from, to, _ := s.Loop(); from != 0 || to != 2 {
			t.Errorf("bars %d to %d are compared", from, to)
		}
		if c.meanwhile != [2]int{} {
			must(t, s.SetLoop(c.meanwhile[0], c.meanwhile[1]))
		}
		s.Stop()
		if from, to, _ := s.Loop(); [2]int{from, to} != c.after {
			t.Errorf("%v: the loop is %d to %d after it", c, from, to)
		}
	}
}

// TestChangingOverKeepsThePlace goes from one take to the other in the middle of
// a bar.
func TestChangingOverKeepsThePlace(t *testing.T) {
	s, e := twoBars(t)
	if s.ChangeOver() == nil {
		t.Error("there is nothing to change over from")
	}
	must(t, s.MakeTake())
	must(t, s.SetVoicing(theory.Drop2))
	if s.CompareTake(1) == nil || s.CompareTake(2) == nil {
		t.Error("a take is compared with itself or with none")
	}
	must(t, s.CompareTake(0))
	before, _ := s.Comparing()
	e.seconds = 1.25
	must(t, s.ChangeOver())
	after, _ := s.Comparing()
	last := e.played[len(e.played)-1]
	if before != "Take 1" || after != "Take 2" || !last.Resume || last.From < 1.2 || last.From > 1.3 {
		t.Errorf("from %s to %s at %v s, resumed %v", before, after, last.From, last.Resume)
	}
}

func TestTakeFacts(t *testing.T) {
	s, _ := twoBars(t)
	if len(s.TakeFacts()) != 0 {
		t.Error("one arrangement is listed as a take")
	}
	must(t, s.MakeTake())
	must(t, s.MakeTake())
	must(t, s.SetVoicing(theory.Drop2))
	must(t, s.RenameTakeAt(1, "Copy"))
	facts := s.TakeFacts()
	if len(facts) != 3 || facts[1].Name != "Copy" || !facts[2].InUse || facts[0].Differ != 8 || facts[2].Differ != 0 {
		t.Errorf("%+v", facts)
	}
	if facts[2].Settings != "drop 2 · shout · muted brass" || facts[0].Settings != "close · shout · muted brass" {
		t.Errorf("settings %q and %q", facts[0].Settings, facts[2].Settings)
	}
	must(t, s.DropTakeAt(0))
	if names, at := s.Takes(); strings.Join(names, ",") != "Copy,Take 3" || at != 1 {
		t.Errorf("%v, %d in use", names, at)
	}
}

// TestHearingAProposalLeavesTheChart plays a proposal first, then what is there,
// and keeps it.
func TestHearingAProposalLeavesTheChart(t *testing.T) {
	s, e := twoBars(t)
	offers := s.Proposals(0)
	if len(offers) == 0 {
		t.Fatal("no proposal for the line")
	}
	chart := s.Chart()
	must(t, s.HearProposal(offers[0]))
	if name, on := s.Comparing(); !on || name != offers[0].Name || s.Chart() != chart {
		t.Errorf("hears %q: %v", name, on)
	}
	e.seconds = 3.9
	s.Cursor()
	e.seconds = 0.1
	s.Cursor()
	if name, _ := s.Comparing(); name != "as it is" {
		t.Errorf("the second pass is %q", name)
	}
	must(t, s.KeepProposal(offers[0]))
	if s.TakeName() != offers[0].Name || s.Passage().Treatment != offers[0].Treatment || len(s.Passage().Takes) != 2 {
		t.Errorf("kept %q with %+v", s.TakeName(), s.Passage().Treatment)
	}
	s.Undo()
	if !s.Chart().Equal(chart) {
		t.Error("one undo does not take the proposal back")
	}
}

// TestWeakPins fixes the voicing of one note and the technique of another.
func TestWeakPins(t *testing.T) {
	s, _ := twoBars(t)
	s.SelectNote(0, false)
	must(t, s.PinVoicing())
	s.SelectNote(1, false)
	must(t, s.PinTechnique())
	pins := s.Chart().Pins
	if len(pins) != 2 || pins[0].Strength != project.PinVoicing || pins[1].Strength != project.PinTechnique || !s.IsPinned() {
		t.Fatalf("pins %+v", pins)
	}
	must(t, s.SetVoicing(theory.Drop2))
	if real := s.Realisation(); real.Steps[0].Voicing != theory.Close || real.Steps[1].Voicing != theory.Drop2 {
		t.Errorf("voicings %v and %v", real.Steps[0].Voicing, real.Steps[1].Voicing)
	}
	must(t, s.SetFamily(theory.MajorSixthFamily, false, true))
	if !s.Passage().Treatment.Forbid.Has(theory.MajorSixthFamily) {
		t.Error("the family is not forbidden")
	}
}
