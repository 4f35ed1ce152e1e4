package musicxml

import (
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Arrangements of every plan and voicing are valid scores that read back as
// the tune they were made from.
func TestArrangementsReadBack(t *testing.T) {
	for _, plan := range project.HandPlans {
		for v := theory.Close; v <= theory.UnisonVoicing; v++ {
			t.Run(plan.String()+" "+v.String(), func(t *testing.T) {
				c := sampleChart()
				c.Passages = []project.Passage{{Plan: plan, Treatment: project.Treatment{Voicing: v}, Bass: project.BassTwoFeel}}
				r := arrange.Realise(c, arrange.Options{})
				sameTune(t, readBack(t, writtenScore(t, r)), c)
			})
		}
	}
}

func TestArrangementsAreValid(t *testing.T) {
	validate := schema(t)
	for _, plan := range project.HandPlans {
		c := sampleChart()
		c.Passages = []project.Passage{{Plan: plan, Bass: project.BassTwoFeel}}
		r := arrange.Realise(c, arrange.Options{})
		if err := validate(writtenScore(t, r)); err != nil {
			t.Errorf("%s: %v", plan, err)
		}
		if !slices.ContainsFunc(r.Notes, func(n arrange.Note) bool { return n.Division == arrange.Pedal }) {
			t.Errorf("%s: the feet have nothing to play", plan)
		}
	}
}
