package arrange

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// TestClimaxOpensForAWhole: where the voicing opens it stays open for a stretch of
// two beats or more, and every block in it is open that can be.
func TestClimaxOpensForAWhole(t *testing.T) {
	blocks := 0
	for _, line := range []string{
		"G4@1 A4@1 C5@1 E5@0.5 A5@0.5 G5@1 A5@0.5 G5@0.5 E5@1 D5@1 C5@4",
		"C4@1 D4@1 E4@1 G4@1 A5@0.5 C4@0.5 D4@1 E4@1 C4@4",
	} {
		c := sketch(t, "C major", "C6@12", line)
		c.Passages[0].Treatment.OpenAtClimax = true
		r := Realise(c, Options{})
		lasted := project.Ticks(0)
		for i := range r.Steps {
			st := &r.Steps[i]
			if st.Voicing == theory.Drop2 {
				lasted += st.Duration
				blocks++
				continue
			}
			if lasted > 0 && lasted < 2*project.Quarter {
				t.Errorf("the voicing opens for %d ticks before note %d of %s", lasted, i, line)
			}
			lasted = 0
		}
	}
	if blocks < 4 {
		t.Errorf("%d blocks opened", blocks)
	}
}

// TestClimaxDoesNotFlicker holds every block of a stretch to the open voicing,
// unless it closes up to stay clear of mud, or slides into a pinned block and so
// has the shape of that.
func TestClimaxDoesNotFlicker(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for i := range r.search.spots {
			sp, x := &r.search.spots[i], &r.search.cands[i][r.search.chosen[i]]
			if !sp.climax || sp.pin != nil || sp.notePin != nil || sp.thin != notThin || x.n < 2 || x.thinned || x.technique == theory.Alone {
				continue
			}
			if x.into >= 0 && (r.search.spots[i+1].pin != nil || r.search.spots[i+1].notePin != nil) {
				continue
			}
			wide := opened(sp.passage.Treatment.Voicing)
			if sp.passage.Plan != project.SoloOverComp && x.voicing != wide && !muddy(wide.Spread(x.voices)) {
				t.Fatalf("note %d of a climax is in %v, not %v: %v", i, x.voicing, wide, x.voices)
			}
		}
	})
}
