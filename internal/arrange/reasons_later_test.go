package arrange

import (
	"slices"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/phrase"
	"organbook/internal/project"
)

// worded are steps with their reasons put into words, so that what they say can
// be compared and not what they are made of.
func worded(steps []Step) []Step {
	out := slices.Clone(steps)
	for i := range out {
		out[i].Reason = phrase.Verbatim(out[i].Reason.String())
		out[i].Moves = slices.Clone(out[i].Moves)
		for k := range out[i].Moves {
			m := &out[i].Moves[k]
			m.Reason = phrase.Verbatim(m.Reason.String())
		}
	}
	return out
}

// wordedAlternatives are the same of alternatives.
func wordedAlternatives(list []Alternative) []Alternative {
	out := slices.Clone(list)
	for i := range out {
		out[i].Reason = phrase.Verbatim(out[i].Reason.String())
	}
	return out
}

// TestReasonsAreTheSameWheneverTheyAreRead puts the reasons of random charts into
// words at once, as one writer goes along the line. Then alternatives are asked
// for and an edit is arranged after it, while others read the reasons from goroutines
// of their own and backwards: each reads what the writer said.
func TestReasonsAreTheSameWheneverTheyAreRead(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		var reasons []phrase.Phrase
		var want []string
		w := r.search.writer()
		at := 0 // the spot
		keep := func(b *Block, start project.Ticks) {
			for r.search.spots[at].note.Start != start {
				at++
			}
			text := w.reason(at, &r.search.cands[at][r.search.chosen[at]], b.Name)
			reasons, want = append(reasons, b.Reason), append(want, text.String())
		}
		for i := range r.Steps {
			keep(&r.Steps[i].Block, r.Steps[i].Start)
			for k := range r.Steps[i].Moves {
				keep(&r.Steps[i].Moves[k].Block, r.Steps[i].Moves[k].Start)
			}
		}
		var readers sync.WaitGroup
		said := make([][]string, 3)
		for k := range said {
			said[k] = make([]string, len(reasons))
			readers.Go(func() {
				for i, p := range slices.Backward(reasons) {
					said[k][i] = p.String()
				}
			})
		}
		for i := range r.Steps {
			r.Alternatives(i)
		}
		Realise(otherwise(t, c), Options{After: r})
		readers.Wait()
		for k := range said {
			if !slices.Equal(said[k], want) {
				t.Fatalf("read later, the reasons are\n%q, at once\n%q", said[k], want)
			}
		}
	})
}
