package arrange

import (
	"strings"
	"testing"

	"organbook/internal/project"
)

// TestBlocksKeepTheirRange narrows the range of leads that get a block: what is
// outside plays alone and says why, what is inside keeps its block.
func TestBlocksKeepTheirRange(t *testing.T) {
	c := eighths(8)
	usual := Realise(c, Options{})
	const from, to = 69, 76
	tr := c.Passages[0].Treatment
	tr.BlocksFrom, tr.BlocksTo = from, to
	d, err := (project.SetTreatment{Treatment: tr}).Apply(c)
	if err != nil {
		t.Fatal(err)
	}
	outside, inside := 0, 0
	for i, st := range Realise(d, Options{}).Steps {
		key := st.Lead.Key()
		if key >= from && key <= to {
			inside++
			if len(st.Voices) < len(usual.Steps[i].Voices) {
				t.Errorf("%v is inside the range and was thinned: %s", st.Lead, st.Reason)
			}
			continue
		}
		if len(usual.Steps[i].Voices) < 3 {
			continue
		}
		outside++
		if len(st.Voices) > 2 {
			t.Errorf("%v is outside the range and has a block of %d", st.Lead, len(st.Voices))
		}
		if !strings.Contains(st.Reason.String(), "range") {
			t.Errorf("%v: the reason does not speak of the range: %s", st.Lead, st.Reason)
		}
	}
	if outside < 3 || inside < 3 {
		t.Errorf("%d outside, %d inside: the tune does not try the range", outside, inside)
	}
}

// TestAPassageWeighsReachItself writes one passage for any hands and one within
// comfort.
func TestAPassageWeighsReachItself(t *testing.T) {
	c := eighths(16)
	small := smallHands()
	cost := func(w project.ReachWeight) (sum int) {
		tr := c.Passages[0].Treatment
		tr.Reach = w
		d, err := (project.SetTreatment{Treatment: tr}).Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range Realise(d, Options{Profile: &small}).Steps {
			sum += PlanCost(small, project.Shout, st.Voices)
		}
		return sum
	}
	if strict, ignored := cost(project.ReachStrict), cost(project.ReachIgnored); strict >= ignored {
		t.Errorf("strict %d, ignored %d", strict, ignored)
	}
}
