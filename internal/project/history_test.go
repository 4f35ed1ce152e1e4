package project_test

import (
	"strconv"
	"testing"

	"organbook/internal/project"
)

func title(n int) project.Edit { return project.SetTitle{Title: strconv.Itoa(n)} }

func TestHistoryDirty(t *testing.T) {
	h := project.NewHistory(project.New())
	steps := []struct {
		do    func()
		dirty bool
	}{
		{func() {}, false},
		{func() { h.Do(title(1), project.Selection{}) }, true},
		{func() { h.MarkSaved() }, false},
		{func() { h.Do(title(2), project.Selection{}) }, true},
		{func() { h.Undo() }, false},
		{func() { h.Undo() }, true},
		{func() { h.Redo() }, false},
		{func() { h.Undo() }, true},
		// The saved chart is dropped with what could be redone.
		{func() { h.Do(title(3), project.Selection{}) }, true},
		{func() { h.Undo() }, true},
		{func() { h.Redo() }, true},
		{func() { h.MarkSaved() }, false},
		{func() { h.MarkUnsaved() }, true},
	}
	for i, s := range steps {
		s.do()
		if h.Dirty() != s.dirty {
			t.Fatalf("step %d: dirty is %v, want %v", i, h.Dirty(), s.dirty)
		}
	}
}

// A chart that was written while work went on counts as saved where it stands in
// the history.
func TestHistoryMarkSavedAs(t *testing.T) {
	h := project.NewHistory(project.New())
	h.Do(title(1), project.Selection{})
	written := h.Chart()
	h.Do(title(2), project.Selection{})
	h.MarkSavedAs(written)
	if !h.Dirty() {
		t.Error("the work since then counts as saved")
	}
	h.Undo()
	if h.Dirty() {
		t.Error("the chart that was written counts as unsaved")
	}
	h.Undo()
	h.Do(title(3), project.Selection{}) // the written one is dropped
	h.MarkSavedAs(written)
	for range 2 {
		if !h.Dirty() {
			t.Error("a chart counts as saved that is not")
		}
		h.Undo()
	}
}

func TestHistoryNames(t *testing.T) {
	h := project.NewHistory(tune())
	if _, ok := h.CanUndo(); ok {
		t.Error("a new history can be undone")
	}
	h.Do(project.RemoveNotes{Starts: []project.Ticks{0, ticks(1)}}, project.NoteSelection(0, ticks(1)))
	h.Do(project.InsertBars{At: 0, Count: 1}, project.Selection{})
	if name, ok := h.CanUndo(); !ok || name != "insert 1 bar" {
		t.Errorf("undo offers %q", name)
	}
	h.Undo()
	if name, ok := h.CanUndo(); !ok || name != "remove 2 notes" {
		t.Errorf("undo offers %q", name)
	}
	if name, ok := h.CanRedo(); !ok || name != "insert 1 bar" {
		t.Errorf("redo offers %q", name)
	}
	h.Do(title(1), project.Selection{})
	if name, ok := h.CanRedo(); ok {
		t.Errorf("redo still offers %q", name)
	}
}

// Old entries fall off, and a saved chart among them no longer counts.
func TestHistoryIsBounded(t *testing.T) {
	h := project.NewHistory(project.New())
	for i := range 1500 {
		h.Do(title(i), project.Selection{})
	}
	undone := 0
	for {
		if _, ok := h.Undo(); !ok {
			break
		}
		undone++
		if !h.Dirty() {
			t.Fatal("a chart counts as saved that is not")
		}
	}
	if undone != 999 || h.Chart().Title != "500" {
		t.Errorf("undid %d edits, back to %q", undone, h.Chart().Title)
	}
}

func TestSelectionsAfterEdits(t *testing.T) {
	notes := func(quarters ...float64) project.Selection {
		var starts []project.Ticks
		for _, v := range quarters {
			starts = append(starts, ticks(v))
		}
		return project.NoteSelection(starts...)
	}
	for _, tt := range []struct {
		edit         project.Edit
		before, want project.Selection
	}{
		{project.AddNote{Note: note(6, 1, "A4")}, notes(0), notes(6)},
		{project.RemoveNotes{Starts: notes(0).Starts}, notes(0, 1), notes(1)},
		{project.MoveNotes{Starts: notes(8, 1).Starts, By: ticks(12)}, notes(1, 8), notes(13, 20)},
		{project.SplitNote{At: ticks(3)}, notes(2), notes(2, 3)},
		{project.JoinNotes{Starts: notes(2, 1).Starts}, notes(1, 2), notes(1)},
		{project.Paste{Notes: []project.Note{note(0, 1, "G4")}, At: ticks(20)}, notes(0), notes(20)},
		{project.SetChord(change(2, "A7")), notes(0), project.ChordSelection(ticks(2))},
		{project.MoveChord{From: ticks(4), To: ticks(3)}, project.ChordSelection(ticks(4)), project.ChordSelection(ticks(3))},
		{project.InsertBars{At: 2, Count: 2}, project.Selection{}, project.BarSelection(2, 4)},
		{project.RemoveBars{First: 6, End: 8}, project.BarSelection(6, 8), project.Selection{}},
		{title(1), project.BarSelection(1, 3), project.BarSelection(1, 3)},
		{project.SetBar{Bar: project.NewBar(project.Meter{Beats: 1, Unit: 4})}, notes(0, 1, 8), notes(0, 5)},
		{project.SetBar{Bar: project.NewBar(project.Meter{Beats: 5, Unit: 4})}, notes(0, 8), notes(0, 9)},
		{project.SetBar{Bar: project.NewBar(project.Meter{Beats: 1, Unit: 4})}, notes(1), project.Selection{}},
		{project.SetBar{Bar: project.NewBar(project.Meter{Beats: 5, Unit: 4})}, project.ChordSelection(ticks(8)), project.ChordSelection(ticks(9))},
		{project.SetBar{Bar: project.NewBar(project.Meter{Beats: 5, Unit: 4})}, project.BarSelection(0, 1), project.BarSelection(0, 1)},
	} {
		h := project.NewHistory(tune())
		if got, err := h.Do(tt.edit, tt.before); err != nil || !got.Equal(tt.want) {
			t.Errorf("%s: selects %+v, want %+v (%v)", tt.edit.Name(), got, tt.want, err)
		}
	}
}

func TestSelectionIn(t *testing.T) {
	c := tune()
	for _, tt := range []struct{ s, want project.Selection }{
		{project.NoteSelection(ticks(7)), project.Selection{}},
		{project.NoteSelection(ticks(1), 0, 0), project.NoteSelection(0, ticks(1))},
		{project.BarSelection(6, 99), project.BarSelection(6, 8)},
		{project.BarSelection(8, 9), project.Selection{}},
		{project.ChordSelection(ticks(32)), project.Selection{}},
		{project.ChordSelection(ticks(31)), project.ChordSelection(ticks(31))},
	} {
		if got := tt.s.In(c); !got.Equal(tt.want) {
			t.Errorf("%+v becomes %+v, want %+v", tt.s, got, tt.want)
		}
	}
}
