package arrange

import (
	"reflect"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestSurprise proposes takes that differ as they say, and the same ones again.
func TestSurprise(t *testing.T) {
	c := eighths(16)
	list := Surprise(c, 0, Options{}, 0)
	if len(list) != 4 {
		t.Fatalf("%d proposals: %+v", len(list), list)
	}
	now := measure(c, 0, Options{})
	for _, p := range list {
		d, err := (project.SetTreatment{Passage: 0, Treatment: p.Treatment}).Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		then := measure(d, 0, Options{})
		better := map[project.Leaning]bool{
			project.LeanBorrowed: then.borrowed > now.borrowed, project.LeanSmooth: then.movement < now.movement,
			project.LeanContrary: then.contrary > now.contrary, project.LeanBright: then.bright > now.bright,
		}
		if p.Changed == 0 || !better[p.Treatment.Leaning] || !strings.HasPrefix(p.Says.String(), p.Name+": ") {
			t.Errorf("%s does not do what it says: %+v before, %+v after", p.Says, figures(now), figures(then))
		}
	}
	if !reflect.DeepEqual(list, Surprise(c, 0, Options{}, 0)) || !reflect.DeepEqual(Surprise(c, 0, Options{}, 7), Surprise(c, 0, Options{}, 7)) {
		t.Error("the same seed proposes something else")
	}
	if reflect.DeepEqual(Surprise(c, 0, Options{}, 7), list) {
		t.Error("another seed proposes the same")
	}
	if Surprise(c, 1, Options{}, 0) != nil {
		t.Error("proposals for a passage that is not there")
	}
}

func figures(m measured) [4]int { return [4]int{m.borrowed, m.movement, m.contrary, m.bright} }

func TestSummary(t *testing.T) {
	c := sketch(t, "G minor", "Gm6@4 N.C.@4", "G4@1 A4@1 Bb4@2 G4@4")
	s := Summarise(Realise(c, Options{}), nil)
	if s.Notes != 4 || s.Chorded != 3 || s.Home != 2 || s.Away != 1 || s.Moving != 2 || s.Repeated != 0 || s.Outside != 0 {
		t.Errorf("%+v", s)
	}
	var b strings.Builder
	if err := s.Write(&b); err != nil || !strings.Contains(b.String(), "home blocks") {
		t.Errorf("%v: %s", err, b.String())
	}
	wide := theory.Octaves
	s = Summarise(Realise(c, Options{Voicing: &wide}), func(st *Step) bool { return st.Bar == 0 })
	if s.Notes != 3 || s.Thinned != 3 || s.Planned != 3 {
		t.Errorf("in octaves: %+v", s)
	}
}

// TestSurpriseLeansOrStaysAway holds every proposal of every passage shape to
// its own figure, a plain line included that leaves no room to lean.
func TestSurpriseLeansOrStaysAway(t *testing.T) {
	for _, melody := range []string{"C5@4 C5@4", "C5@1 E5@1 G5@1 E5@1 C5@1 A4@1 G4@1 E4@1", "G5@2 A5@2 G5@4"} {
		c := sketch(t, "C major", "C6@4 G7@4", melody)
		now := measure(c, 0, Options{})
		for _, p := range Surprise(c, 0, Options{}, 0) {
			d, err := (project.SetTreatment{Passage: 0, Treatment: p.Treatment}).Apply(c)
			if err != nil {
				t.Fatal(err)
			}
			if !now.leans(measure(d, 0, Options{}), p.Treatment.Leaning) {
				t.Errorf("%q over %s does not lean", p.Says, melody)
			}
		}
	}
}

// TestSummaryCountsThinning counts blocks that a run or a low register thins.
func TestSummaryCountsThinning(t *testing.T) {
	run := sketch(t, "C major", "C6@8", "C5@0.5 D5@0.5 E5@0.5 F5@0.5 G5@0.5 A5@0.5 G5@0.5 F5@0.5 E5@4")
	run.Tempo = 240
	low := sketch(t, "C major", "C6@4", "E4@1 C4@1 A3@1 G3@1")
	for name, c := range map[string]*project.Chart{"run": run, "low": low} {
		s, fewer := Summarise(Realise(c, Options{}), nil), 0
		for _, st := range Realise(c, Options{}).Steps {
			if n := len(st.Voices); n == 2 || n == 3 {
				fewer++
			}
		}
		if fewer == 0 || s.Fewer != fewer || s.Thinned != 0 {
			t.Errorf("%s: %d thinned to fewer voices, %d to the lead; %d blocks have fewer", name, s.Fewer, s.Thinned, fewer)
		}
	}
}
