package arrange

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

// TestTreatmentsAreObeyed checks what passages ask for on random charts: no
// borrowed voice where none may be, no forbidden family, two voices only where
// the passage is free to.
func TestTreatmentsAreObeyed(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i, st := range r.Steps {
			if st.Pinned || r.search.spots[r.search.first[i]].pin != nil {
				continue
			}
			tr := c.Passages[c.PassageAt(st.Bar)].Treatment
			origin := r.search.cands[r.search.first[i]][r.search.chosen[r.search.first[i]]].origin
			if tr.Borrow == project.BorrowNever && st.Technique == theory.Borrowed && origin != fromTurn {
				t.Fatalf("step %d borrows where it may not: %+v", i, st.Block)
			}
			if st.Family.IsValid() && tr.Forbid.Has(st.Family.Sixth()) && origin != fromLead {
				t.Fatalf("step %d is of the forbidden %v", i, st.Family)
			}
		}
	})
}

// TestNoPathIsCheaper tries paths at random: none costs less than the search's.
func TestNoPathIsCheaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Realise(projecttest.Charts(projecttest.Small).Draw(t, "chart"), Options{}).search
		if len(q.cands) == 0 {
			return
		}
		best := q.pathCost(q.chosen)
		path := make([]int, len(q.cands))
		for range 20 {
			for i := range path {
				path[i] = rapid.IntRange(0, len(q.cands[i])-1).Draw(t, "candidate")
			}
			if cost := q.pathCost(path); cost < best {
				t.Fatalf("path %v costs %d, the search's %d", path, cost, best)
			}
		}
	})
}

// TestMovesFillTheirNote checks the parts of held notes: they follow each other
// to the note's end, keep its lead and each change the block.
func TestMovesFillTheirNote(t *testing.T) {
	seen := 0
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i := range r.Steps {
			st := &r.Steps[i]
			at, before := st.Start+st.Length(), st.Voices
			for _, m := range st.Moves {
				seen++
				if m.Start != at || m.Duration <= 0 || m.Voices[0].Key() != st.Lead.Key() || sameKeys(m.Voices, before) {
					t.Fatalf("step %d: move %+v at %d after %v", i, m, at, before)
				}
				at, before = m.Start+m.Duration, m.Voices
			}
			if at != st.Start+st.Duration {
				t.Fatalf("step %d ends at %d, its moves at %d", i, st.Start+st.Duration, at)
			}
		}
	})
	if seen == 0 {
		t.Error("no held note moved")
	}
}

func TestFastRunsAreThinned(t *testing.T) {
	line := "C5@0.5 D5@0.5 E5@0.5 F5@0.5 G5@0.5 A5@0.5 G5@0.5 F5@0.5 E5@4"
	for _, c := range []struct {
		tempo float64
		full  bool
		// sizes are the number of voices of each note.
		sizes string
	}{
		{120, false, "444444444"},
		{240, false, "424244424"},
		{300, false, "424244424"},
		{300, true, "444444444"},
		{340, false, "111111114"},
		{400, false, "111111114"},
	} {
		chart := sketch(t, "C major", "C6@8", line)
		chart.Tempo = c.tempo
		chart.Passages[0].Treatment.FullRuns = c.full
		var b strings.Builder
		for _, st := range Realise(chart, Options{}).Steps {
			b.WriteByte('0' + byte(len(st.Voices)))
			if len(st.Voices) < 4 && !strings.Contains(st.Reason.String(), "he run is fast") {
				t.Errorf("at %v: %s", c.tempo, st.Reason)
			}
		}
		if b.String() != c.sizes {
			t.Errorf("at %v, full %v: %s, want %s", c.tempo, c.full, b.String(), c.sizes)
		}
	}
}

func TestFamiliesPreferredAndForbidden(t *testing.T) {
	chart := sketch(t, "C major", "Dm7@4 G7@4 Cmaj7@4", "A4@4 F4@4 E4@4")
	chart.Passages[0].Treatment.Prefer = project.FamiliesOf(theory.MinorSixthFamily)
	r := Realise(chart, Options{})
	if st := r.Steps[1]; st.Family.String() != "D minor family" || st.Name != "G9" {
		t.Errorf("preferring minor, G7 plays %s of the %v", stepText(&st), st.Family)
	}
	chart.Passages[0].Treatment = project.Treatment{Forbid: project.FamiliesOf(theory.MajorSixthFamily)}
	for i, st := range Realise(chart, Options{}).Steps {
		if st.Family.IsValid() && st.Family.Sixth() == theory.MajorSixthFamily {
			t.Errorf("step %d is of the forbidden %v", i, st.Family)
		}
	}
}

// TestSlashBassIsNamed names blocks over the bass that sounds.
func TestSlashBassIsNamed(t *testing.T) {
	r := Realise(sketch(t, "C major", "Cmaj7/G@4", "E5@4"), Options{})
	if got := r.Steps[0].Name; got != "C6/G" {
		t.Errorf("E over Cmaj7/G is named %s", got)
	}
}

// TestFamiliesOfAStep lists what serves a note's chord, as the passage wants it.
func TestFamiliesOfAStep(t *testing.T) {
	chart := sketch(t, "C major", "Dm7@4 G7@4 Cmaj7@4", "A4@4 F4@4 E4@4")
	first := func() string { return Realise(chart, Options{}).Families(1)[0].Sound }
	if got := first(); got != "G7b9" {
		t.Errorf("G7 is served first by what sounds as %s", got)
	}
	chart.Passages[0].Treatment.Dominants = project.DominantsNaturalNine
	if got := first(); got != "G9" {
		t.Errorf("with natural nines G7 is served first by what sounds as %s", got)
	}
	if Realise(chart, Options{}).Families(3) != nil {
		t.Error("families of a step that is not there")
	}
}
