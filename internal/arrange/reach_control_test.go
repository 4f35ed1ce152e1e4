package arrange

import (
	"slices"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// twoSounds is a chart of two passages of a two-hand block whose second begins at a
// bar with another registration.
func twoSounds(t *testing.T, melody string, second int, change func(*project.Registration)) *project.Chart {
	c := sketch(t, "C major", "C6@32", melody)
	a, b := withVoicing(project.TwoHandBlock, theory.Close), withVoicing(project.TwoHandBlock, theory.Close)
	b.First = second
	change(&b.Registration)
	c.Tempo, c.Passages = 120, []project.Passage{a, b}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	return c
}

func pulled(r *project.Registration) { r.Upper[0], r.Name = 5, "reeds"+project.ChangedMark }
func pushed(r *project.Registration) { r.Upper[0], r.Name = 5, "my reeds" }

// TestChangesOfRegistrationAtABorder holds what an organist would say of each: what
// there is time for is no finding, and every way out leaves none.
func TestChangesOfRegistrationAtABorder(t *testing.T) {
	const bar = " C5@1 D5@1 E5@1 D5@1" // of quarters of half a second
	for _, tc := range []struct {
		name, melody string
		second       int
		change       func(*project.Registration)
		want         string   // severity, "" for no finding
		ways         []string // the ways out, by how they begin
	}{
		{"a rest of a beat before", bar + " C5@1 D5@1 E5@1 r@1" + bar, 2, pushed, "", nil},
		{"a rest of a beat before, for drawbars", bar + " C5@1 D5@1 E5@1 r@1" + bar, 2, pulled, "demanding", nil},
		{"a held note before", bar + " C5@4" + bar, 2, pushed, "demanding", []string{"end the note before"}},
		{"quarters throughout", bar + bar + bar, 2, pushed, "unplayable", []string{"keep the registration"}},
		{"a rest two bars before", bar + " r@4" + bar + bar + bar, 3, pushed, "unplayable", []string{"change the registration at bar 3", "keep the registration"}},
		{"a rest a bar after", bar + bar + " C5@1 D5@1 E5@1 r@1" + bar, 2, pushed, "unplayable", []string{"change the registration at bar 4", "keep the registration"}},
		{"a half note before", bar + " C5@2 D5@2" + bar, 2, pushed, "demanding", []string{"end the note before", "keep the registration"}},
	} {
		rr := Realise(twoSounds(t, tc.melody, tc.second, tc.change), Options{}).Reach()
		i := slices.IndexFunc(rr.Findings, func(f reach.Finding) bool { return f.Kind == reach.Control })
		switch {
		case i < 0 && tc.want == "":
			continue
		case i < 0 || rr.Findings[i].Severity.String() != tc.want:
			t.Errorf("%s: findings %v, want %q", tc.name, rr.Findings, tc.want)
			continue
		}
		ways := rr.Remedies(i)
		for _, want := range tc.ways {
			if !slices.ContainsFunc(ways, func(r Remedy) bool { return strings.HasPrefix(r.Text.String(), want) }) {
				t.Errorf("%s: ways out %v, want %q", tc.name, ways, want)
			}
		}
		for _, way := range ways {
			c, err := way.Edit.Apply(rr.Realisation.Chart)
			if err != nil || c.Check() != nil {
				t.Fatalf("%s: %q: %v, %v", tc.name, way.Text, err, c.Check())
			}
			for _, f := range Realise(c, Options{}).Reach().Findings {
				if f.Kind == reach.Control && f.Severity >= rr.Findings[i].Severity {
					t.Errorf("%s: %q leaves: %s", tc.name, way.Text, f.Text)
				}
			}
		}
	}
}

// TestMovingAChangeOfRegistrationMovesNothingElse takes the way out to a bar nearby.
func TestMovingAChangeOfRegistrationMovesNothingElse(t *testing.T) {
	const bar = " C5@1 D5@1 E5@1 D5@1"
	c := twoSounds(t, bar+" r@4"+bar+bar+bar, 3, pushed)
	c.Passages[1].Plan = project.SoloOverComp
	rr := Realise(c, Options{}).Reach()
	for i := range rr.Findings {
		for _, way := range rr.Remedies(i) {
			if way.Kind != reach.MoveControl {
				continue
			}
			after, err := way.Edit.Apply(c)
			if err != nil {
				t.Fatal(err)
			}
			if len(after.Passages) != 3 || after.Passages[1].First != 2 || after.Passages[1].Plan != project.TwoHandBlock ||
				after.Passages[1].Registration != c.Passages[1].Registration || after.Passages[2].First != 3 || after.Passages[2].Plan != project.SoloOverComp {
				t.Errorf("passages %+v", after.Passages)
			}
			return
		}
	}
	t.Error("the change is not moved")
}
