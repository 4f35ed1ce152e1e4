package arrange

import (
	"fmt"
	"os"
	"sort"
	"strings"
	"testing"

	"organbook/internal/project"
	"organbook/internal/theory"
)

// sheetFigures are what an arranger would look for in many sheets.
type sheetFigures struct {
	Summary
	// reasonless are the notes over a chord without a block that neither plan nor
	// run nor register explains; rubs the semitones right under the lead.
	reasonless, rubs int
}

func (f *sheetFigures) add(r *Realisation) {
	s := Summarise(r, nil)
	f.Notes += s.Notes
	f.Chorded += s.Chorded
	f.Home += s.Home
	f.Away += s.Away
	f.Borrowed += s.Borrowed
	f.Approach += s.Approach
	f.Own += s.Own
	f.Thinned += s.Thinned
	f.Moving += s.Moving
	f.Repeated += s.Repeated
	f.Unasked += s.Unasked
	f.Crossings += s.Crossings
	f.Outside += s.Outside
	f.Average += s.Average * float64(s.Movements)
	f.Movements += s.Movements
	f.Largest = max(f.Largest, s.Largest)
	for i := range r.Steps {
		st := &r.Steps[i]
		if origin := chosenAt(r, i).origin; st.Technique == theory.Alone && origin == fromRegister && inRange(st) {
			f.reasonless++
		}
		if len(st.Voices) > 1 && st.Lead.Key()-st.Voices[1].Key() == 1 {
			f.rubs++
		}
	}
}

func chosenAt(r *Realisation, step int) *candidate {
	i := r.search.first[step]
	return &r.search.cands[i][r.search.chosen[i]]
}

func inRange(st *Step) bool {
	return st.Lead.Key() >= project.LowestBlockLead && st.Lead.Key() <= project.HighestBlockLead && playable(st.Chord)
}

func (f *sheetFigures) String() string {
	pc := func(n int) float64 { return 100 * float64(n) / float64(max(1, f.Chorded)) }
	return fmt.Sprintf("%6d notes: home %.0f away %.0f borrowed %.0f approach %.1f own %.1f thinned %.1f %% | reasonless %d, repeated %d of %d (%.2f %%), ninths %d, crossings %d, outside %d, rubs %d, moves %.2f, largest %d",
		f.Chorded, pc(f.Home), pc(f.Away), pc(f.Borrowed), pc(f.Approach), pc(f.Own), pc(f.Thinned), f.reasonless, f.Repeated, f.Moving,
		100*float64(f.Repeated)/float64(max(1, f.Moving)), f.Unasked, f.Crossings, f.Outside, f.rubs, f.Average/float64(max(1, f.Movements)), f.Largest)
}

// TestQualityOfLeadSheets holds many sheets of every style to what a user may
// expect of any: a block with a reason, or a deliberate thinning, under 97 % of
// the notes that have a chord; under 2 % of the blocks repeated while the lead
// moves; no minor ninth under the lead that nobody asked for.
func TestQualityOfLeadSheets(t *testing.T) {
	count := 60
	if testing.Short() {
		count = 10
	}
	var all sheetFigures
	each := map[string]*sheetFigures{}
	sheets(count, func(style *sheetStyle, c *project.Chart) {
		if each[style.name] == nil {
			each[style.name] = &sheetFigures{}
		}
		r := arrangeOnly(c, Options{})
		each[style.name].add(r)
		all.add(r)
	})
	for _, s := range sheetStyles {
		f := each[s.name]
		t.Logf("%-14s %v", s.name, f)
		f.judge(t, s.name)
	}
	t.Logf("%-14s %v", "all", &all)
	all.judge(t, "all")
}

func (f *sheetFigures) judge(t *testing.T, name string) {
	if 100*f.reasonless > 3*f.Chorded {
		t.Errorf("%s: %d of %d notes have no block and no reason for it", name, f.reasonless, f.Chorded)
	}
	if 100*f.Repeated > 2*f.Moving {
		t.Errorf("%s: %d of %d blocks repeat under a moving lead", name, f.Repeated, f.Moving)
	}
	if f.Unasked > 0 || f.Crossings > 0 {
		t.Errorf("%s: %d unasked minor ninths, %d crossings", name, f.Unasked, f.Crossings)
	}
}

// TestWorstOfLeadSheets prints the dearest notes of the sheets, for an arranger to
// look at, when ORGANBOOK_WORST says how many.
func TestWorstOfLeadSheets(t *testing.T) {
	var count int
	if fmt.Sscan(os.Getenv("ORGANBOOK_WORST"), &count); count == 0 {
		t.Skip("set ORGANBOOK_WORST to a number to see the dearest notes")
	}
	type marked struct {
		cost int
		text string
	}
	var list []marked
	sheets(30, func(style *sheetStyle, c *project.Chart) {
		r := arrangeOnly(c, Options{})
		for i := range r.Steps {
			cost, parts := dearness(r, i)
			list = append(list, marked{cost, fmt.Sprintf("%s %v\n%s%s", style.name, c.Key, around(r, i), parts)})
		}
	})
	sort.SliceStable(list, func(a, b int) bool { return list[a].cost > list[b].cost })
	for _, m := range list[:min(count, len(list))] {
		t.Logf("%d %s", m.cost, m.text)
	}
}

// dearness is what a note's block costs with the way into it.
func dearness(r *Realisation, step int) (cost int, text string) {
	i := r.search.first[step]
	c := chosenAt(r, step)
	parts := appendParts(nil, c.price, "")
	cost = c.price.total
	if i > 0 {
		p := r.search.movePrice(i, &r.search.cands[i-1][r.search.chosen[i-1]], c, r.search.chosen[i])
		cost += p.total
		parts = appendParts(parts, p, ", from the block before")
	}
	var b strings.Builder
	for _, p := range parts {
		fmt.Fprintf(&b, "        %d %s\n", p.Cost, p.Text)
	}
	return cost, b.String()
}

// around prints a step among its neighbours.
func around(r *Realisation, step int) string {
	var b strings.Builder
	for i := max(0, step-2); i <= min(len(r.Steps)-1, step+2); i++ {
		st := &r.Steps[i]
		mark := " "
		if i == step {
			mark = ">"
		}
		fmt.Fprintf(&b, "    %s %-8s %-22s %s | %.2f beats | %s\n", mark, st.Chord, r.Spans[st.Span].Function, stepText(st), float64(st.Duration)/float64(project.Quarter), st.Reason)
	}
	return b.String()
}
