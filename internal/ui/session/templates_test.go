package session

import (
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

func TestTemplatesOnPassageAndBars(t *testing.T) {
	s, _ := fresh(t, "C major")
	before := s.Chart()
	tm := project.Templates()[2]
	must(t, s.ApplyTemplate(tm))
	if !tm.Fits(s.Passage()) || s.Message() == "" {
		t.Errorf("passage %+v: %s", s.Passage(), s.Message())
	}
	s.Undo()
	s.SelectBars(2, 3)
	if !s.CanMakePassage() {
		t.Fatal("two bars of eight can be a passage")
	}
	must(t, s.ApplyTemplateToBars(tm))
	c := s.Chart()
	if len(c.Passages) != 3 || c.Passages[1].Name != tm.Name || !tm.Fits(c.Passages[1]) || tm.Fits(c.Passages[0]) || tm.Fits(c.Passages[2]) || s.CurrentPassage() != 1 {
		t.Errorf("%d passages, the caret in %d: %+v", len(c.Passages), s.CurrentPassage(), c.Passages)
	}
	s.Undo()
	if !s.Chart().Equal(before) {
		t.Error("one undo does not take it all back")
	}
	s.SelectBars(0, 1)
	must(t, s.ApplyTemplateToBars(tm))
	if c := s.Chart(); len(c.Passages) != 2 || !tm.Fits(c.Passages[0]) || tm.Fits(c.Passages[1]) {
		t.Errorf("at the start: %+v", c.Passages)
	}
	s.SelectBars(1, 2)
	if s.CanMakePassage() || s.MakePassage() == nil {
		t.Error("bars of two passages become one")
	}
}

func TestHearingATemplateLeavesTheChart(t *testing.T) {
	s, e := twoBars(t)
	chart := s.Chart()
	must(t, s.HearTemplate(project.Templates()[2]))
	if name, on := s.Comparing(); !on || name != "shout" || s.Chart() != chart || !e.playing {
		t.Errorf("hears %q: %v", name, on)
	}
	if v := s.Sounding().Steps[0].Voicing; v != theory.DoubleLead {
		t.Errorf("sounds in %v", v)
	}
	must(t, s.ChangeOver())
	if s.Sounding() != s.Realisation() {
		t.Error("changing over does not play what is there")
	}
}
