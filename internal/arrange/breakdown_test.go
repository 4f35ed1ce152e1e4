package arrange

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project/projecttest"
)

// TestPartsAddUp holds every charge against the cost the search reckoned with.
func TestPartsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		c.Pins = nil
		r := Realise(c, Options{})
		if len(r.Steps) == 0 {
			return
		}
		q := r.search
		for i := range q.cands {
			for k := range q.cands[i] {
				c := &q.cands[i][k]
				sum := 0
				for _, x := range c.price.items[:c.price.n] {
					sum += int(x.amount)
				}
				if sum != c.price.total || sum != c.cost {
					t.Fatalf("note %d: charges %v add up to %d, the block costs %d", i, c.price.items, sum, c.cost)
				}
				for d := 0; i+1 < len(q.cands) && d < len(q.cands[i+1]); d++ {
					if got, want := q.movePrice(i+1, c, &q.cands[i+1][d], d).total, q.move(i+1, c, &q.cands[i+1][d], d); got != want {
						t.Fatalf("note %d: the parts of the move cost %d, the move %d", i, got, want)
					}
				}
			}
		}
		checkAlternatives(t, r, rapid.IntRange(0, len(r.Steps)-1).Draw(t, "step"))
	})
}

// checkAlternatives compares each alternative's parts with the chosen block's.
func checkAlternatives(t *rapid.T, r *Realisation, step int) {
	list := r.Alternatives(step)
	own := partsSum(list[0].Parts)
	for k, a := range list {
		if got := partsSum(a.Parts) - own; got != a.Cost-list[0].Cost {
			t.Fatalf("alternative %d of %d costs %d, its parts less the first's say %d: %v", k, step, a.Cost, got, a.Parts)
		}
		for _, p := range a.Parts {
			if p.Text.IsZero() || p.Cost == 0 {
				t.Fatalf("a part says nothing: %+v", a.Parts)
			}
		}
	}
}

func partsSum(parts []Part) (sum int) {
	for _, p := range parts {
		sum += p.Cost
	}
	return sum
}
