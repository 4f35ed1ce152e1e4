package project_test

import (
	"fmt"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

func fingersText(c *project.Chart) string {
	var out []string
	for _, f := range c.Fingerings {
		out = append(out, fmt.Sprintf("%d on %d @%g", f.Finger, f.Key, float64(f.Start)/float64(q)))
	}
	return strings.Join(out, ", ")
}

func TestFingersOfTheirOwn(t *testing.T) {
	c := mustApply(t, tune(), project.SetFinger{Start: ticks(1), Key: 74, Finger: 4})
	c = mustApply(t, c, project.SetFinger{Start: ticks(1), Key: 65, Finger: 1})
	c = mustApply(t, c, project.SetFinger{Start: ticks(8), Key: 78, Finger: 3})
	if got := fingersText(c); got != "1 on 65 @1, 4 on 74 @1, 3 on 78 @8" {
		t.Fatal(got)
	}
	for _, x := range []struct {
		edit project.Edit
		want string
	}{
		{project.SetFinger{Start: ticks(1), Key: 74, Finger: 5}, "1 on 65 @1, 5 on 74 @1, 3 on 78 @8"},
		{project.SetFinger{Start: ticks(1), Key: 74}, "1 on 65 @1, 3 on 78 @8"},
		{project.ClearFingers{From: 0, To: ticks(2)}, "3 on 78 @8"},
		{project.RemoveNotes{Starts: []project.Ticks{ticks(1)}}, "3 on 78 @8"},
		{project.InsertBars{At: 0, Count: 1}, "1 on 65 @5, 4 on 74 @5, 3 on 78 @12"},
		{project.RemoveBars{First: 0, End: 1}, "3 on 78 @4"},
		{project.TransposeChart{By: theory.MajorSecond}, "1 on 67 @1, 4 on 76 @1, 3 on 80 @8"},
	} {
		if got := fingersText(mustApply(t, c, x.edit)); got != x.want {
			t.Errorf("%s leaves %s, not %s", x.edit.Name(), got, x.want)
		}
	}
	if c.FingerOf(ticks(1), 65) != 1 || c.FingerOf(ticks(1), 66) != 0 {
		t.Error("FingerOf misses or invents a finger")
	}
	mustRefuse(t, c, project.SetFinger{Start: ticks(1.5), Key: 74, Finger: 4}, "no note")
	mustRefuse(t, c, project.SetFinger{Start: ticks(1), Key: 74, Finger: 6}, "no finger 6")
	mustRefuse(t, c, project.SetFinger{Start: ticks(1), Key: 70}, "no finger of your own")
}

func TestPlayerOfAChart(t *testing.T) {
	small := project.Player{Name: "Aunt", Right: project.Stretch{Comfortable: 150, Maximal: 170}, Left: project.Stretch{Comfortable: 150, Maximal: 175}, Speed: 0.8}
	c := mustApply(t, tune(), project.SetPlayer{Player: &small})
	if got := reload(t, c).Player; got == nil || *got != small {
		t.Errorf("read back as %+v", got)
	}
	if mustApply(t, c, project.SetPlayer{}).Player != nil {
		t.Error("the player stays")
	}
	tooFast := small
	tooFast.Speed = 5
	mustRefuse(t, c, project.SetPlayer{Player: &tooFast}, "speed 5")
	narrow := small
	narrow.Left.Maximal = 20
	mustRefuse(t, c, project.SetPlayer{Player: &narrow}, "a hand that opens")
}
