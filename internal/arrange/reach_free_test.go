package arrange

import (
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
)

// TestLimbsThatAreNotFreeGetNothing realises every plan on consoles, and for
// players, whose limbs are not all free.
func TestLimbsThatAreNotFreeGetNothing(t *testing.T) {
	for _, tc := range []struct {
		busy  string
		limbs []Limb
	}{
		{"left-hand", []Limb{LeftHand}}, {"right-hand", []Limb{RightHand}}, {"left-foot,right-foot", []Limb{LeftFoot, RightFoot}},
		{"right-foot", []Limb{RightFoot}}, {"left-foot", []Limb{LeftFoot}},
	} {
		for _, plan := range project.HandPlans {
			c := eighths(4)
			c.Console = "own upper:36-96 lower:36-96 pedal:36-60 busy:" + tc.busy
			r := Realise(c, Options{Plan: &plan})
			for i := range r.Notes {
				for _, limb := range tc.limbs {
					if r.Notes[i].Limb == limb {
						t.Fatalf("%s, %v: the %v plays %v", tc.busy, plan, limb, r.Notes[i].Pitch)
					}
				}
			}
			for _, f := range r.Reach().Findings {
				if f.Kind == reach.NoLimb {
					t.Errorf("%s, %v: %s", tc.busy, plan, f.Text)
				}
			}
		}
	}
}

func TestWhatNoLimbPlaysIsSaid(t *testing.T) {
	c := eighths(4)
	plan := project.SoloOverComp
	c.Console = "own upper:36-96 lower:36-96 pedal:36-60 busy:left-hand,left-foot,right-foot"
	said := map[Limb]bool{}
	for _, f := range Realise(c, Options{Plan: &plan}).Findings {
		said[f.Limb] = said[f.Limb] || f.Severity == Caution
	}
	if !said[LeftHand] || !said[LeftFoot] {
		t.Errorf("said of comp %v, of the bass %v", said[LeftHand], said[LeftFoot])
	}
}
