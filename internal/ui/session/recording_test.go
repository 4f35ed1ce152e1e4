package session

import (
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// startRecording begins a recording at the caret.
func startRecording(t *testing.T, s *Session) {
	t.Helper()
	if err := s.ToggleRecord(); err != nil || !s.Recording() {
		t.Fatalf("recording: %v", err)
	}
}

// TestARecordingThatAdds leaves what it does not touch, and can be written
// anew so that it replaces.
func TestARecordingThatAdds(t *testing.T) {
	s, e := fresh(t, "C")
	write(t, s, "4cdef")
	before := s.Chart()
	s.SetAdds(true)
	s.SetCaret(0)
	startRecording(t, s)
	recorded(t, s, e, 67, 1, 2, 69, 2.5, 3.5)
	s.Stop()
	if got, want := lineOf(s), "C5 0+1, G4 1+1, E5 2+0.5, A4 2.5+1"; got != want {
		t.Errorf("added %s, want %s", got, want)
	}
	s.SetAdds(false)
	if got, want := lineOf(s), "G4 1+1, A4 2.5+1"; got != want {
		t.Errorf("replaced %s, want %s", got, want)
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("one undo takes the recording back")
	}
}

func TestARecordingCountsInAsTheTransport(t *testing.T) {
	s, e := fresh(t, "C")
	for _, want := range []int{1, 1, 2} { // none is one bar: hands need it
		startRecording(t, s)
		if n := e.played[len(e.played)-1].CountIn; n != want {
			t.Errorf("set to %d bars a recording counts %d", s.CountIn(), n)
		}
		s.Stop()
		s.ChangeCountIn()
	}
	if s.CountIn() != 0 {
		t.Errorf("after two bars comes none, not %d", s.CountIn())
	}
}

// TestARecordingReadsThePageOnce passes over a repeat with two endings: every
// bar is played once and written where it was played.
func TestARecordingReadsThePageOnce(t *testing.T) {
	s, e := fresh(t, "C")
	s.SelectBars(1, 1)
	if err := s.ToggleRepeatEnd(); err != nil {
		t.Fatal(err)
	}
	s.SetCaret(0)
	startRecording(t, s)
	p := e.played[len(e.played)-1].Performance
	for i, b := range p.Played {
		if b.Bar != i {
			t.Fatalf("bar %d of the page is played as number %d", b.Bar, i)
		}
	}
	recorded(t, s, e, 60, 4, 8, 62, 8, 12)
	s.Stop()
	if got, want := lineOf(s), "C4 4+4, D4 8+4"; got != want {
		t.Errorf("recorded %s, want %s", got, want)
	}
}

// TestEscapeLeavesOneThingAtATime gives up a recording, then the selection,
// then step entry.
func TestEscapeLeavesOneThingAtATime(t *testing.T) {
	s, e := fresh(t, "C")
	write(t, s, "4cd")
	before := s.Chart()
	s.ToggleStepEntry()
	s.SetCaret(0)
	startRecording(t, s)
	recorded(t, s, e, 67, 0, 1)
	if !s.BackOut() || s.Recording() || s.Playing() || !s.Chart().Equal(before) || !s.HasNotes() {
		t.Fatalf("recording given up: %s", lineOf(s))
	}
	if !s.BackOut() || s.HasNotes() || !s.StepEntry() {
		t.Fatal("the selection goes before step entry")
	}
	if !s.BackOut() || s.StepEntry() {
		t.Fatal("step entry is left")
	}
	if s.BackOut() {
		t.Error("there is nothing to leave any more")
	}
	if err := s.KeyPlayed(arrange.Upper, 60, true, s.Now()); err != nil || !s.Chart().Equal(before) {
		t.Errorf("keys write nothing: %s, %v", lineOf(s), err)
	}
}

func TestARestIsSilent(t *testing.T) {
	s, _ := fresh(t, "C")
	write(t, s, "2cd4ef")
	before := s.Chart()
	s.SetCaret(project.Quarter)
	if err := s.SetValue(4); err != nil {
		t.Fatal(err)
	}
	s.SelectNothing()
	for range 2 {
		if err := s.Rest(); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := lineOf(s), "C5 0+1, E5 4+1, F5 5+1"; got != want {
		t.Errorf("after two rests %s, want %s", got, want)
	}
	if s.sel.Caret != 3*project.Quarter {
		t.Errorf("the caret stands at %d", s.sel.Caret)
	}
	s.Undo()
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("each rest is a step of undo")
	}
	s.SetCaret(2 * 4 * project.Quarter)
	undoable := s.CanUndo()
	if err := s.Rest(); err != nil || s.CanUndo() != undoable || !s.Chart().Equal(before) {
		t.Error("a rest where nothing sounds only moves the caret")
	}
	s.SetCaret(s.Chart().Length())
	bars := len(s.Chart().Bars)
	if err := s.Rest(); err != nil || len(s.Chart().Bars) != bars+1 {
		t.Error("a rest at the end adds a bar, as a note does")
	}
}

// TestExtendingFromANote keeps the note it starts from, in both directions, and
// wastes no step on it.
func TestExtendingFromANote(t *testing.T) {
	s, _ := fresh(t, "C")
	write(t, s, "4cdef")
	const q = project.Quarter
	s.SetCaret(q)
	for i, step := range []struct {
		forward bool
		want    []project.Ticks
	}{{true, []project.Ticks{q, 2 * q}}, {true, []project.Ticks{q, 2 * q, 3 * q}}, {false, []project.Ticks{q, 2 * q}},
		{false, []project.Ticks{q}}, {false, []project.Ticks{0, q}}, {true, []project.Ticks{q}}, {true, []project.Ticks{q, 2 * q}}} {
		if s.MoveCaret(step.forward, true); !slices.Equal(s.Selection().Notes, step.want) {
			t.Fatalf("step %d selects %v, want %v", i, s.Selection().Notes, step.want)
		}
	}
	s.SetCaret(2 * q)
	s.SelectNothing()
	if s.MoveCaret(false, true); !slices.Equal(s.Selection().Notes, []project.Ticks{q}) {
		t.Errorf("from a caret alone the note behind it is not taken: %v", s.Selection().Notes)
	}
}

func TestLoudnessOfTheClick(t *testing.T) {
	s, e := fresh(t, "C")
	s.ChangeClickLevel(3)
	if e.clickLevel != 3 || s.ClickLevel() != 3 {
		t.Errorf("louder: %v", e.clickLevel)
	}
	s.ChangeClickLevel(-100)
	if e.clickLevel != minClick {
		t.Errorf("softest: %v", e.clickLevel)
	}
}
