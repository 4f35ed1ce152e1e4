package arrange

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project/projecttest"
	"organbook/internal/theory"
)

// TestAlternativesOfManyAreThoseOfEach compares the walk along the line with
// asking for one note after the other.
func TestAlternativesOfManyAreThoseOfEach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Realise(projecttest.Charts(projecttest.Small).Draw(t, "chart"), Options{})
		var steps []int
		for i := range r.Steps {
			if rapid.Bool().Draw(t, "take") {
				steps = append(steps, i)
			}
		}
		for k, got := range r.AlternativesOf(steps) {
			if want := r.Alternatives(steps[k]); !reflect.DeepEqual(wordedAlternatives(got), wordedAlternatives(want)) {
				t.Fatalf("step %d: %+v, alone %+v", steps[k], got, want)
			}
		}
	})
}

func TestAlternativesInAVoicing(t *testing.T) {
	r := Realise(eighths(4), Options{})
	for _, v := range []theory.Voicing{theory.Close, theory.Drop2, theory.Drop24, theory.ThreePart, theory.Spread} {
		for i := range r.Steps {
			list := r.AlternativesIn(i, v)
			if len(list) == 0 {
				t.Fatalf("step %d has no block in %v", i, v)
			}
			for k, a := range list {
				if a.Voicing != v || a.Voices[0] != r.Steps[i].Lead || a.Reason.String() == "" {
					t.Errorf("step %d in %v: %+v", i, v, a)
				}
				if k > 0 && a.Cost < list[k-1].Cost || list[0].Cost != 0 {
					t.Errorf("step %d in %v: costs do not ascend from 0", i, v)
				}
			}
			// The one block in another voicing that Alternatives offers is the
			// cheapest here, unless its keys were offered already.
			for _, a := range r.Alternatives(i) {
				if a.Voicing == v && v == theory.Drop2 && !sameKeys(a.Voices, list[0].Voices) {
					t.Errorf("step %d: the bench offers %v, the cheapest is %v", i, a.Voices, list[0].Voices)
				}
			}
		}
	}
}

func BenchmarkAlternativesOfMany(b *testing.B) {
	r := Realise(eighths(64), Options{})
	steps := make([]int, len(r.Steps))
	for i := range steps {
		steps[i] = i
	}
	for b.Loop() {
		r.AlternativesOf(steps)
	}
}
