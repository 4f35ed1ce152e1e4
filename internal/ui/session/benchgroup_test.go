package session

import (
	"slices"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestTheBenchWorksOnASelection walks the ways to play several notes, pins one
// for all, and takes the pins out; each is one edit.
func TestTheBenchWorksOnASelection(t *testing.T) {
	s, e := twoBars(t)
	s.SelectAll()
	first := s.Chart()
	steps, list, at := s.Group()
	if len(steps) != 8 || at != 0 || list[0].Name != "as they are" || list[0].Differ != 0 || list[0].Can != 8 {
		t.Fatalf("%d steps, at %d of %+v", len(steps), at, list)
	}
	drop2 := slices.IndexFunc(list, func(m Manner) bool { return m.Name == "drop 2" })
	if drop2 < 0 || list[drop2].Can != 8 || list[drop2].Differ != 8 {
		t.Fatalf("drop 2 in %+v", list)
	}
	heard := len(e.heard)
	for range drop2 {
		s.WalkAlternatives(1)
	}
	if len(e.heard) != heard+drop2 {
		t.Errorf("%d of %d steps were heard", len(e.heard)-heard, drop2)
	}
	must(t, s.Pin())
	if n := len(s.Chart().Pins); n != 8 || len(s.Selection().Notes) != 8 {
		t.Errorf("%d pins, %d notes stay selected", n, len(s.Selection().Notes))
	}
	for i, st := range s.Realisation().Steps {
		if st.Voicing != theory.Drop2 || !st.Pinned {
			t.Errorf("step %d is %v, pinned %v", i, st.Voicing, st.Pinned)
		}
	}
	if !s.IsPinned() {
		t.Error("the selection says that nothing is pinned")
	}
	must(t, s.Unpin())
	if len(s.Chart().Pins) != 0 || !s.Chart().Equal(first) {
		t.Errorf("%d pins are left", len(s.Chart().Pins))
	}
	s.Undo()
	s.Undo()
	if !s.Chart().Equal(first) || s.CanUndo() {
		t.Error("pinning and unpinning are not one edit each")
	}
}

// TestMannersCountHonestly compares what each way says with the blocks it holds.
func TestMannersCountHonestly(t *testing.T) {
	s, _ := twoBars(t)
	s.SelectAll()
	steps, list, _ := s.Group()
	for _, m := range list {
		can, differ := 0, 0
		for k, b := range m.Blocks {
			if b == nil {
				continue
			}
			can++
			if !sameVoices(*b, s.Realisation().Steps[steps[k]].Block) {
				differ++
			}
			if b.Voices[0] != s.Realisation().Steps[steps[k]].Lead {
				t.Errorf("%s: note %d has another lead", m.Name, k)
			}
		}
		if can != m.Can || differ != m.Differ || can == 0 {
			t.Errorf("%s says %d and %d, has %d and %d", m.Name, m.Can, m.Differ, can, differ)
		}
	}
}

// TestWeakPinsOfASelection fixes only the voicing of each of several notes.
func TestWeakPinsOfASelection(t *testing.T) {
	s, _ := twoBars(t)
	s.SelectSpan(0, project.Whole, 0, 127)
	_, list, _ := s.Group()
	s.PickManner(slices.IndexFunc(list, func(m Manner) bool { return m.Name == "three-part" }))
	must(t, s.PinVoicing())
	for _, p := range s.Chart().Pins {
		if p.Strength != project.PinVoicing || p.Voicing != theory.ThreePart {
			t.Errorf("pin %+v", p)
		}
	}
	if len(s.Chart().Pins) != 4 {
		t.Errorf("%d pins", len(s.Chart().Pins))
	}
}

// TestHearingAMannerLeavesTheChart plays drop 2 and what is there in turn.
func TestHearingAMannerLeavesTheChart(t *testing.T) {
	s, e := twoBars(t)
	s.SelectSpan(0, project.Whole, 0, 127)
	chart := s.Chart()
	s.WalkAlternatives(1)
	must(t, s.HearBench())
	_, list, at := s.Group()
	if name, on := s.Comparing(); !on || name != list[at].Name || s.Chart() != chart {
		t.Errorf("comparing %v: %q, want %q", on, name, list[at].Name)
	}
	if from, to, on := s.Loop(); !on || from != 0 || to != 1 || !e.played[0].Loop {
		t.Errorf("loops %d to %d: %v", from, to, on)
	}
}

// TestTheBenchFilters lists by voicing, family and reach, and all again.
func TestTheBenchFilters(t *testing.T) {
	s, _ := twoBars(t)
	s.SelectNote(3, false)
	whole, _ := s.Alternatives()
	s.ChangeBenchFilter(func(f *BenchFilter) { f.InVoicing, f.Voicing = true, theory.Drop2 })
	list, at := s.Alternatives()
	if len(list) < 2 || at != -1 || s.Offered() != len(whole) {
		t.Fatalf("%d in drop 2, at %d, %d of %d in all", len(list), at, s.Offered(), len(whole))
	}
	for _, a := range list {
		if a.Voicing != theory.Drop2 {
			t.Errorf("%v is listed", a.Voicing)
		}
	}
	s.WalkAlternatives(1)
	if _, at := s.Alternatives(); at != 0 {
		t.Errorf("the first step goes to %d", at)
	}
	must(t, s.Pin())
	if step, _ := s.Step(); step.Voicing != theory.Drop2 || !step.Pinned {
		t.Errorf("pinned %v in %v", step.Pinned, step.Voicing)
	}
	s.SetBenchFilter(BenchFilter{OfFamily: true, Family: theory.MinorSixthFamily})
	list, _ = s.Alternatives()
	for _, a := range list {
		if a.Family.Sixth() != theory.MinorSixthFamily || !a.Family.IsValid() {
			t.Errorf("%v is listed", a.Family)
		}
	}
	s.SetBenchFilter(BenchFilter{Reach: InComfort})
	for _, a := range first(s.Alternatives()) {
		if s.Stretch(a.Block) != InComfort {
			t.Errorf("%v is listed", a.Voices)
		}
	}
	s.SetBenchFilter(BenchFilter{})
	if again, _ := s.Alternatives(); len(again) != s.Offered() {
		t.Error("without a filter not all are listed")
	}
}

func first[A, B any](a A, _ B) A { return a }
