package session

import (
	"testing"

	"organbook/internal/project"
)

func TestTupletsByHand(t *testing.T) {
	s, _ := fresh(t, "C")
	write(t, s, "8")
	for _, tc := range []struct {
		n    int
		keys string
		want project.Ticks // where the caret stands after
	}{{5, "cdefg", 2 * project.Quarter}, {7, "cdefgab", 4 * project.Quarter}, {9, "cdefgabcd", 8 * project.Quarter}, {3, "cde", 9 * project.Quarter}} {
		if err := s.ToggleTuplet(tc.n); err != nil {
			t.Fatal(err)
		}
		write(t, s, tc.keys)
		if s.Selection().Caret != tc.want {
			t.Errorf("after %d notes the caret is at %d, want %d", tc.n, s.Selection().Caret, tc.want)
		}
	}
	if err := s.ToggleTuplet(3); err != nil || !s.Entry().Tuplet.IsZero() {
		t.Error("the same again ends the tuplet")
	}
	if err := s.ToggleTuplet(2); err == nil {
		t.Error("a duplet in 4/4")
	}
}

func TestTupletsFollowTheMeter(t *testing.T) {
	s, _ := fresh(t, "C")
	if err := s.SetMeter(project.Meter{Beats: 6, Unit: 8}); err != nil {
		t.Fatal(err)
	}
	write(t, s, "8")
	if err := s.ToggleTuplet(2); err != nil {
		t.Fatal(err)
	}
	write(t, s, "cd")
	if s.Selection().Caret != project.Quarter*3/2 {
		t.Errorf("a duplet lasts %d", s.Selection().Caret)
	}
	if err := s.ToggleTuplet(5); err != nil {
		t.Fatal(err)
	}
	write(t, s, "cdefg")
	if s.Selection().Caret != 3*project.Quarter {
		t.Errorf("a quintuplet in a compound beat ends at %d", s.Selection().Caret)
	}
	s.SelectBars(1, 1)
	if err := s.SetMeter(project.CommonTime); err != nil {
		t.Fatal(err)
	}
	s.SetCaret(s.Chart().BarStart(1))
	write(t, s, "cdefg")
	if s.Selection().Caret != s.Chart().BarStart(1)+2*project.Quarter {
		t.Errorf("in 4/4 it takes the time of four: %d", s.Selection().Caret-s.Chart().BarStart(1))
	}
}

func TestDividingAndEvening(t *testing.T) {
	s, _ := fresh(t, "C")
	write(t, s, "4cd")
	s.SetCaret(0)
	if err := s.DivideNotes(5); err != nil || len(s.Selection().Notes) != 5 {
		t.Fatalf("%v, %d selected", err, len(s.Selection().Notes))
	}
	s.SelectAll()
	if err := s.EvenNotes(); err != nil {
		t.Fatal(err)
	}
	if m := s.Chart().Melody; len(m) != 6 || m[5].Duration != project.Quarter/3 || m[5].End() != 2*project.Quarter {
		t.Errorf("%s", lineOf(s))
	}
	if len(s.Selection().Notes) != 6 {
		t.Errorf("%d selected", len(s.Selection().Notes))
	}
	s.SelectNote(0, false)
	if err := s.EvenNotes(); err == nil {
		t.Error("one note is spread evenly")
	}
}

func TestResizingSeveral(t *testing.T) {
	s, _ := fresh(t, "C")
	write(t, s, "4cdef")
	s.SelectAll()
	if err := s.Resize(project.Quarter, project.Quarter/2); err != nil {
		t.Fatal(err)
	}
	if got, want := lineOf(s), "C5 0+0.5, D5 1+0.5, E5 2+0.5, F5 3+0.5"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if err := s.Resize(0, 0); err != nil || s.Chart().Melody[0].Duration != shortestDragged || len(s.Selection().Notes) != 4 {
		t.Errorf("none vanishes: %v %s", err, lineOf(s))
	}
	s.SelectNote(0, false)
	if err := s.Resize(project.Quarter, project.Quarter); err != nil || s.Chart().Melody[0].Duration != shortestDragged {
		t.Errorf("the end of a note that is not selected moves alone: %s", lineOf(s))
	}
}
