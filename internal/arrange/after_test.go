package arrange

import (
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project"
	"organbook/internal/project/projecttest"
)

// TestRealisingAfterAnEditIsTheSame edits random charts and realises each with
// the realisation before it, and from nothing: there is no difference.
func TestRealisingAfterAnEditIsTheSame(t *testing.T) {
	used := false
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) {
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			c = otherwise(t, c)
			after, fresh := Realise(c, Options{After: r}), Realise(c, Options{})
			used = used || len(r.standingFor(newStage(c, Options{}))) > 0
			for _, part := range []struct {
				name      string
				got, want any
			}{
				{"spans", after.Spans, fresh.Spans}, {"steps", worded(after.Steps), worded(fresh.Steps)}, {"notes", after.Notes, fresh.Notes},
				{"cues", after.Cues, fresh.Cues}, {"findings", after.Findings, fresh.Findings}, {"strain", after.Reach().Strain, fresh.Reach().Strain},
			} {
				if !reflect.DeepEqual(part.got, part.want) {
					t.Fatalf("%s after an edit: %+v, from nothing %+v", part.name, part.got, part.want)
				}
			}
			r = after
		}
	})
	if !used {
		t.Error("no edit left candidates that could be used again")
	}
}

// otherwise edits a chart, or has it treated otherwise, or played by another
// player, on another console or at another tempo.
func otherwise(t *rapid.T, c *project.Chart) *project.Chart {
	out := *c
	switch rapid.IntRange(0, 5).Draw(t, "what") {
	case 0:
		out.Passages = slices.Clone(c.Passages)
		for i := range out.Passages {
			out.Passages[i].Treatment = projecttest.Treatments().Draw(t, "treatment")
		}
	case 1:
		out.Player = projecttest.Players().Draw(t, "player")
	case 2:
		var ids []string
		for _, console := range project.Consoles() {
			ids = append(ids, console.ID)
		}
		out.Console = rapid.SampledFrom(ids).Draw(t, "console")
		out.Tempo = rapid.SampledFrom([]float64{40, 120, 240}).Draw(t, "tempo")
	default:
		if next, err := projecttest.Edits(c).Draw(t, "edit").Apply(c); err == nil {
			return next
		}
	}
	return &out
}

// TestWhatIsRememberedIsTheSame makes every note's candidates with what is
// remembered of other notes, and each from nothing: nothing is missing in the key
// that they are remembered by, and no note changes what another one remembers.
func TestWhatIsRememberedIsTheSame(t *testing.T) {
	onCharts(t, func(t *rapid.T, c *project.Chart, r *Realisation) { rememberedIsTheSame(t, c) })
	// Em is at rest after its own dominant only.
	rememberedIsTheSame(t, sketch(t, "C major", "C@4 Em@4 C@4 B7@4 Em@4 C@4", strings.Repeat("r@2 B4@2 ", 6)))
	rng := rand.New(rand.NewSource(1))
	for k := range 40 {
		rememberedIsTheSame(t, sheet(rng, &sheetStyles[k%len(sheetStyles)]))
	}
}

func rememberedIsTheSame(t interface {
	Helper()
	Fatalf(string, ...any)
}, c *project.Chart) {
	t.Helper()
	var cands [2][][]candidate
	for k := range cands {
		s := newStage(c, Options{})
		s.spans, s.readings = analyse(s)
		if k == 1 {
			s.known = nil
		}
		cands[k] = newSearch(s).cands
	}
	for i, list := range cands[0] {
		if !reflect.DeepEqual(list, cands[1][i]) {
			t.Fatalf("note %d has %+v, from nothing %+v", i, list, cands[1][i])
		}
	}
}
