package arrange

import (
	"slices"
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

func TestOwnFingersAreKept(t *testing.T) {
	c := sketch(t, "C major", "C6@8", "C5@1 D5@1 E5@1 F5@1 G5@4")
	c.Fingerings = []project.Fingering{{Start: 0, Key: 72, Finger: 4}, {Start: 2 * project.Quarter, Key: 76, Finger: 5}}
	v, plan := theory.UnisonVoicing, project.SoloOverComp
	for _, n := range Realise(c, Options{Voicing: &v, Plan: &plan}).Notes {
		if want := c.FingerOf(n.Start, n.Key); want != 0 && n.Limb == RightHand && n.Finger != want {
			t.Errorf("%v is taken by %d, not by %d", n.Pitch, n.Finger, want)
		}
	}
}

func TestCrossedFingersAreReportedAndFreed(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "C5@4")
	c.Fingerings = []project.Fingering{{Start: 0, Key: 69, Finger: 5}, {Start: 0, Key: 72, Finger: 2}}
	rr := Realise(c, Options{}).Reach()
	i := slices.IndexFunc(rr.Findings, func(f reach.Finding) bool { return f.Kind == reach.Numbers })
	if i < 0 {
		t.Fatalf("nothing is said of crossed fingers: %+v", rr.Findings)
	}
	ways := rr.Remedies(i)
	if len(ways) == 0 {
		t.Fatal("no way out")
	}
	d, err := ways[0].Edit.Apply(c)
	if err != nil || len(d.Fingerings) != 0 {
		t.Errorf("%v %v", d.Fingerings, err)
	}
}

func TestAChartsPlayerComesFirst(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "G5@4")
	c.Pins = []project.Pin{{Start: 0, Voices: pitches("G5 E5 C5 F4")}} // a major ninth
	plan := project.SoloOverComp
	severity := func(player *project.Player, o Options) (worst reach.Severity) {
		d := *c
		d.Player = player
		o.Plan = &plan
		for _, f := range Realise(&d, o).Reach().Findings {
			worst = max(worst, f.Severity)
		}
		return worst
	}
	small, _ := reach.ProfileByName("small")
	large, _ := reach.ProfileByName("large")
	small.Hands[0].Maximal = reach.Naturals(8)
	if severity(nil, Options{Profile: &large}) != reach.Caution || severity(PlayerOf(small), Options{Profile: &large}) != reach.Unplayable {
		t.Error("a ninth is for large hands, and the chart's player has small ones")
	}
	if got := ProfileOf(PlayerOf(small)); got != small {
		t.Errorf("%+v became %+v", small, got)
	}
}

// smallHands is a player whose right hand reaches a seventh.
func smallHands() reach.Profile {
	small := reach.DefaultProfile()
	small.Hands[0] = reach.Stretch{Comfortable: reach.Naturals(5), Maximal: reach.Naturals(7)}
	return small
}

func TestReachBearsOnTheBlocks(t *testing.T) {
	c := eighths(16)
	small := smallHands()
	v, plan := theory.Close, project.Shout
	wide := func(w project.ReachWeight) (cost int) {
		for _, st := range Realise(c, Options{Voicing: &v, Plan: &plan, Profile: &small, Reach: &w}).Steps {
			cost += PlanCost(small, plan, st.Voices)
		}
		return cost
	}
	ignored, usual, strict := wide(project.ReachIgnored), wide(project.ReachUsual), wide(project.ReachStrict)
	t.Logf("ignored %d, usual %d, strict %d", ignored, usual, strict)
	if strict > usual || usual > ignored || strict == ignored {
		t.Error("the more reach weighs, the more stretching there is")
	}
}

// TestAnotherTakeIsAWayOut keeps a playable arrangement as a take and goes on
// with one that no hand reaches.
func TestAnotherTakeIsAWayOut(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "G5@4")
	for _, e := range []project.Edit{
		project.SetPlan{Plan: project.SoloOverComp},
		project.MakeTake{NewName: "Wide"},
		project.SetPin{Voices: pitches("G5 E5 C5 C4")},
	} {
		d, err := e.Apply(c)
		if err != nil {
			t.Fatal(err)
		}
		c = d
	}
	rr := Realise(c, Options{}).Reach()
	i := slices.IndexFunc(rr.Findings, func(f reach.Finding) bool { return f.Kind == reach.Wide })
	if i < 0 {
		t.Fatalf("a twelfth is no finding: %+v", rr.Findings)
	}
	ways := rr.waysOut(&rr.Findings[i], reach.OtherTake)
	if len(ways) == 0 {
		t.Fatal("the other take is not offered")
	}
	if !rr.helps(&rr.Findings[i], ways[0].Edit) {
		t.Errorf("%q does not help", ways[0].Text)
	}
	if d, err := ways[0].Edit.Apply(c); err != nil || d.Passages[0].Take != 0 {
		t.Errorf("%q: %v", ways[0].Text, err)
	}
}
