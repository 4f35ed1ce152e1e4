package project_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// swellAt is where the chart has the expression pedal at a position.
func swellAt(c *project.Chart, t project.Ticks) float64 {
	i := c.PassageAt(c.BarAt(t))
	start, end := c.PassageTime(i)
	return c.Passages[i].Registration.SwellAt(float64(t-start) / float64(end-start))
}

func TestSwellGlidesEvenly(t *testing.T) {
	r := project.Registration{Swell: 0.6}.GlidingTo(0.8)
	for part, want := range map[float64]float64{-1: 0.6, 0: 0.6, 0.25: 0.65, 0.5: 0.7, 1: 0.8, 2: 0.8} {
		if got := r.SwellAt(part); math.Abs(got-want) > 1e-12 {
			t.Errorf("after %g of the passage the swell is %g, want %g", part, got, want)
		}
	}
	if r.Glide != 0.2 {
		t.Errorf("the difference of 0.8 and 0.6 is kept as %v", r.Glide)
	}
	if moved := r.WithSwell(0.3); moved.SwellAt(1) != 0.8 || moved.Swell != 0.3 {
		t.Errorf("from 0.3 it glides to %g, where it went to 0.8", moved.SwellAt(1))
	}
	if rest := (project.Registration{Swell: 0.6}).WithSwell(0.3); rest.Glide != 0 {
		t.Errorf("a pedal that rested glides by %g", rest.Glide)
	}
	if rest := r.GlidingTo(0.6); rest.Glide != 0 {
		t.Errorf("from 0.6 to 0.6 it glides by %g", rest.Glide)
	}
	for _, bad := range []project.Registration{{Swell: 0.6, Glide: 0.5}, {Swell: 0.6, Glide: -0.7}, {Glide: math.NaN()}} {
		c := tune()
		c.Passages[0].Registration = bad
		if c.Check() == nil {
			t.Errorf("a swell of %g that moves by %g is taken", bad.Swell, bad.Glide)
		}
	}
}

// TestCuttingAPassageLeavesTheSwell splits a passage anywhere and joins it again: the
// swell is where it was at every bar, in the takes on the shelf as well.
func TestCuttingAPassageLeavesTheSwell(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		bar := rapid.IntRange(0, len(c.Bars)-1).Draw(t, "bar")
		i := c.PassageAt(bar)
		cut, err := project.SplitPassage{Bar: bar}.Apply(c)
		if err != nil {
			t.Skip("a passage starts there")
		}
		joined, err := project.JoinPassage{Passage: i + 1}.Apply(cut)
		if err != nil {
			t.Fatal(err)
		}
		for k := range c.Bars {
			at := c.BarStart(k)
			want := swellAt(c, at)
			for what, d := range map[string]*project.Chart{"cut": cut, "joined again": joined} {
				if got := swellAt(d, at); math.Abs(got-want) > 1e-6 {
					t.Fatalf("bar %d, %s: the swell is %g, it was %g", k, what, got, want)
				}
			}
		}
		for k := range c.Passages[i].Takes {
			if again := joined.Passages[i].Takes[k].Registration; math.Abs(again.SwellAt(1)-c.Passages[i].Takes[k].Registration.SwellAt(1)) > 1e-6 {
				t.Fatalf("take %d, joined again, ends at %g", k, again.SwellAt(1))
			}
			whole, first, second := c.Passages[i].Takes[k].Registration, cut.Passages[i].Takes[k].Registration, cut.Passages[i+1].Takes[k].Registration
			if first.Swell != whole.Swell || math.Abs(second.SwellAt(1)-whole.SwellAt(1)) > 1e-6 || math.Abs(first.SwellAt(1)-second.Swell) > 1e-6 && whole.Glide != 0 {
				t.Fatalf("take %d: %g to %g became %g to %g and %g to %g", k, whole.Swell, whole.SwellAt(1), first.Swell, first.SwellAt(1), second.Swell, second.SwellAt(1))
			}
		}
	})
}
