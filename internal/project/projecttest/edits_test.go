package projecttest_test

import (
	"fmt"
	"slices"
	"testing"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// Random edits are worth something only when every kind both applies and is
// refused now and then.
func TestEditsOfEveryKindApply(t *testing.T) {
	applied, refused := map[string]int{}, 0
	charts := projecttest.Charts(projecttest.Small)
	for seed := range 4000 {
		c := charts.Example(seed)
		e := projecttest.Edits(c).Example(seed)
		if _, err := e.Apply(c); err != nil {
			refused++
		} else {
			applied[fmt.Sprintf("%T", e)]++
		}
	}
	total := 0
	for _, n := range applied {
		total += n
	}
	if len(applied) != editKinds || total < refused/2 || refused == 0 {
		t.Errorf("%d applied, %d refused, of kinds %v", total, refused, applied)
	}
}

// editKinds is the number of edits that package project has.
const editKinds = 48

// Charts of the generator show every feature that matters to their readers.
func TestChartsShowEveryFeature(t *testing.T) {
	seen := map[string]int{}
	charts := projecttest.Charts(projecttest.Small)
	for seed := range 400 {
		c := charts.Example(seed)
		note := func(feature string, yes bool) {
			if yes {
				seen[feature]++
			}
		}
		note("pickup", c.Bars[0].Unnumbered)
		note("passages", len(c.Passages) > 1)
		note("pins", len(c.Pins) > 0)
		note("takes", slices.ContainsFunc(c.Passages, func(p project.Passage) bool { return len(p.Takes) > 1 }))
		note("shelved pins", len(c.Shelved) > 0)
		note("fingers", len(c.Fingerings) > 0)
		note("player", c.Player != nil)
		note("tone", c.Tone != nil)
		note("changes", len(c.Changes) > 1)
		for i, b := range c.Bars {
			note("split bar", i > 0 && b.Unnumbered)
			note("odd meter", b.Meter.Beats%2 == 1)
			note("ending", len(b.Ending) > 0)
			note("repeat", b.RepeatStart)
			note("key", b.Key.IsValid())
			note("tempo", b.Tempo > 0)
			note("jump", b.Jump != 0)
		}
		for _, n := range c.Melody {
			note("tuplet", n.Duration%315 != 0)
			note("held over a bar line", c.BarAt(n.Start) != c.BarAt(n.End()-1))
		}
	}
	for _, feature := range []string{
		"pickup", "passages", "pins", "takes", "shelved pins", "changes", "split bar", "odd meter", "ending", "repeat", "key", "tempo", "jump", "tuplet", "held over a bar line",
	} {
		if seen[feature] < 10 {
			t.Errorf("%s: seen %d times", feature, seen[feature])
		}
	}
}
