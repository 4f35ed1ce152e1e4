package arrange

import (
	"fmt"
	"slices"

	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// Remedy is a way out of a finding. It has been tried: with its edit applied
// the finding is gone and nothing unplayable came instead.
type Remedy struct {
	Kind reach.Remedy
	// Text is an instruction, such as "share the block between both hands".
	Text phrase.Phrase
	// Edit does it, undone in one step.
	Edit project.Edit
}

// compound is several edits that are done and undone as one.
type compound struct {
	name  string
	edits []project.Edit
}

// Name returns what a menu shows after "Undo".
func (e compound) Name() string { return e.name }

// Apply fails where one of the edits does; then none is done.
func (e compound) Apply(c *project.Chart) (*project.Chart, error) {
	var err error
	for _, edit := range e.edits {
		if c, err = edit.Apply(c); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// maxRemedies is how many ways out are offered, triedRemedies how many are
// tried at most.
const (
	maxRemedies   = 3
	triedRemedies = 12
)

// Remedies returns up to three ways out of finding i, the best first. Each is
// tried by realising the changed chart and running the model again, so this
// takes a few times as long as a realisation.
func (rr *ReachReport) Remedies(i int) []Remedy {
	var out []Remedy
	tried := 0
	f := &rr.Findings[i]
	for _, kind := range f.Remedies {
		for _, r := range rr.waysOut(f, kind) {
			if len(out) == maxRemedies || tried == triedRemedies {
				return out
			}
			if offered(out, r.Text.String()) {
				continue
			}
			tried++
			if rr.helps(f, r.Edit) && (kind != reach.MoveControl || rr.fewer(f, r.Edit)) {
				out = append(out, r)
				break
			}
		}
	}
	return out
}

func offered(list []Remedy, text string) bool {
	return slices.ContainsFunc(list, func(r Remedy) bool { return r.Text.String() == text })
}

// helps tries an edit.
func (rr *ReachReport) helps(f *reach.Finding, edit project.Edit) bool {
	after := rr.try(edit)
	if after == nil {
		return false
	}
	for i := range after.Findings {
		if g := &after.Findings[i]; g.Kind == f.Kind && g.Limb == f.Limb && g.Severity >= f.Severity && g.At <= f.Until && g.Until >= f.At {
			return false
		}
	}
	return unplayable(after) <= unplayable(rr.Report)
}

// fewer reports whether an edit leaves fewer findings of a kind: one that moves
// what is asked for may only have moved the finding.
func (rr *ReachReport) fewer(f *reach.Finding, edit project.Edit) bool {
	count := func(r *reach.Report) (n int) {
		for i := range r.Findings {
			if g := &r.Findings[i]; g.Kind == f.Kind && g.Severity >= f.Severity {
				n++
			}
		}
		return n
	}
	return count(rr.try(edit)) < count(rr.Report)
}

// try returns the report of the chart after an edit; nil where the edit fails.
func (rr *ReachReport) try(edit project.Edit) *reach.Report {
	key := fmt.Sprintf("%#v", edit)
	if after, known := rr.tried[key]; known {
		return after
	}
	var after *reach.Report
	if chart, err := edit.Apply(rr.Realisation.Chart); err == nil {
		after = Realise(chart, rr.options).reach.Report
	}
	rr.tried[key] = after
	return after
}

// unplayable counts the moments that are out of reach.
func unplayable(r *reach.Report) (n int) {
	for i := range r.Findings {
		if r.Findings[i].Severity == reach.Unplayable {
			n += r.Findings[i].Count
		}
	}
	return n
}

// waysOut lists the edits that a remedy may mean for a finding.
func (rr *ReachReport) waysOut(f *reach.Finding, kind reach.Remedy) []Remedy {
	w := &wayOut{rr: rr, finding: f, kind: kind, chart: rr.Realisation.Chart}
	rule := w.chart.Ruler()
	w.bar = rule.BarAt(project.Ticks(f.At))
	w.index = w.chart.PassageAt(w.bar)
	w.passage = w.chart.Passages[w.index]
	switch kind {
	case reach.DropDoubling:
		w.dropDoubling()
	case reach.OtherHandLowest:
		w.plan(project.TwoHandBlock, "share the block between both hands")
	case reach.DropTwoAcross:
		w.dropTwo()
	case reach.ThinToThree:
		w.thin()
	case reach.ShiftOctave:
		w.octave()
	case reach.OtherBlock:
		w.otherBlocks()
	case reach.OtherPlan:
		w.plan(project.TwoHandBlock, "share the block between both hands")
		w.plan(project.SoloOverComp, "play the line alone over a comping left hand")
		w.plan(project.Shout, "give the right hand the block and the left hand its double")
	case reach.Slower:
		w.slower()
	case reach.SimplerBass:
		w.bass(project.BassRoots, "hold the roots in the pedals")
		w.bass(project.BassNone, "leave the pedals silent")
	case reach.FreeNumbers:
		w.add(phrase.Of("leave the fingers here to the program"), project.ClearFingers{From: project.Ticks(f.At), To: project.Ticks(f.Until) + 1})
	case reach.KeepSetting:
		w.keepSetting()
	case reach.MoveControl:
		w.moveControl()
	case reach.ShorterNote:
		w.shorterNote()
	case reach.OtherConsole:
		w.consoles()
	case reach.OtherTake:
		w.takes()
	case reach.CloserVoicing:
		w.voicing(theory.Close, "close the blocks up")
	}
	return w.out
}

// wayOut collects the edits for one remedy of one finding.
type wayOut struct {
	rr      *ReachReport
	finding *reach.Finding
	kind    reach.Remedy
	chart   *project.Chart
	bar     int
	index   int
	passage project.Passage
	out     []Remedy
}

func (w *wayOut) add(text phrase.Phrase, edits ...project.Edit) {
	w.out = append(w.out, Remedy{w.kind, text, compound{w.kind.String(), edits}})
}

// inPassage says where a change of the passage holds, where there are several.
func (w *wayOut) inPassage(text phrase.Phrase) phrase.Phrase {
	switch {
	case len(w.chart.Passages) == 1:
		return text
	case w.passage.Name != "":
		return phrase.Of("%s in %s", text, w.passage.Name)
	}
	first, end := w.chart.PassageBars(w.index)
	if first == end-1 {
		return phrase.Of("%s in bar %d", text, w.chart.BarNumber(first))
	}
	return phrase.Of("%s in bars %d to %d", text, w.chart.BarNumber(first), w.chart.BarNumber(end-1))
}

func (w *wayOut) plan(p project.HandPlan, text string) {
	if w.passage.Plan != p {
		w.add(w.inPassage(phrase.Of(text)), project.SetPlan{Passage: w.index, Plan: p})
	}
}

func (w *wayOut) bass(b project.BassStyle, text string) {
	if w.passage.Bass != b {
		w.add(w.inPassage(phrase.Of(text)), project.SetBass{Passage: w.index, Bass: b})
	}
}

func (w *wayOut) treated(change func(*project.Treatment)) project.Edit {
	t := w.passage.Treatment
	change(&t)
	return project.SetTreatment{Passage: w.index, Treatment: t}
}

func (w *wayOut) voicing(v theory.Voicing, text string) {
	if w.passage.Treatment.Voicing != v {
		w.add(w.inPassage(phrase.Of(text)), w.treated(func(t *project.Treatment) { t.Voicing = v }))
	}
}

func (w *wayOut) dropDoubling() {
	switch w.passage.Treatment.Voicing {
	case theory.DoubleLead:
		w.voicing(theory.Close, "leave out the doubled lead")
	case theory.Octaves:
		w.voicing(theory.UnisonVoicing, "leave out the lower octave")
	}
	if w.passage.Plan == project.Shout {
		w.plan(project.SoloOverComp, "leave out the left hand's double")
	}
}

func (w *wayOut) dropTwo() {
	edits := []project.Edit{w.treated(func(t *project.Treatment) { t.Voicing = theory.Drop2 })}
	if w.passage.Plan != project.TwoHandBlock {
		edits = append(edits, project.SetPlan{Passage: w.index, Plan: project.TwoHandBlock})
	}
	if w.passage.Treatment.Voicing != theory.Drop2 || len(edits) > 1 {
		w.add(w.inPassage(phrase.Of("open the blocks (drop 2) over both hands")), edits...)
	}
}

// fewSteps is how many blocks are pinned one by one; more are a matter of the
// whole passage.
const fewSteps = 8

// steps lists the steps a finding is about.
func (w *wayOut) steps() (at []int) {
	for _, i := range w.finding.Notes {
		if s := w.rr.Realisation.Notes[i].Step; s >= 0 && !slices.Contains(at, s) {
			at = append(at, s)
		}
	}
	slices.Sort(at)
	return at
}

// thin leaves three voices: in the blocks concerned where they are few, in the
// passage otherwise.
func (w *wayOut) thin() {
	var edits []project.Edit
	for _, i := range w.steps() {
		st := &w.rr.Realisation.Steps[i]
		if len(st.Voices) > 3 {
			edits = append(edits, project.SetPin{Start: st.Start, Voicing: st.Voicing, Voices: st.Voices[:3]})
		}
	}
	if len(edits) > 0 && len(edits) <= fewSteps {
		w.add(thinning(len(edits)), edits...)
	}
	w.voicing(theory.ThreePart, "thin the blocks to three voices")
}

func thinning(n int) phrase.Phrase {
	if n == 1 {
		return phrase.Of("thin this block to three voices")
	}
	return phrase.Of("thin these blocks to three voices")
}

// otherBlocks pins, for each block concerned, the first alternative that the
// hands reach.
func (w *wayOut) otherBlocks() {
	steps := w.steps()
	if len(steps) == 0 || len(steps) > fewSteps {
		return
	}
	var edits []project.Edit
	name := ""
	for _, i := range steps {
		for _, a := range w.rr.Realisation.Alternatives(i) {
			if w.reached(i, a.Voices) {
				edits = append(edits, project.SetPin{Start: w.rr.Realisation.Steps[i].Start, Voicing: a.Voicing, Voices: a.Voices})
				name = a.Name
				break
			}
		}
	}
	switch {
	case len(edits) < len(steps):
	case len(edits) == 1:
		w.add(phrase.Of("take %s here", name), edits...)
	default:
		w.add(phrase.Of("take other blocks here"), edits...)
	}
}

// reached reports whether a block differs from the step's own and lies within
// the stretches of the planned hands.
func (w *wayOut) reached(step int, voices []theory.Pitch) bool {
	if slices.Equal(voices, w.rr.Realisation.Steps[step].Voices) {
		return false
	}
	return PlanCost(w.rr.Profile, w.passage.Plan, voices) == 0
}

// octave moves the lead towards the middle of the manual.
func (w *wayOut) octave() {
	up := func(by int, text string) {
		if at := w.passage.Treatment.LeadOctave + by; at >= -project.MaxLeadOctave && at <= project.MaxLeadOctave {
			w.add(w.inPassage(phrase.Of(text)), w.treated(func(t *project.Treatment) { t.LeadOctave = at }))
		}
	}
	if w.finding.Low < 60 {
		up(1, "play an octave higher")
		return
	}
	up(-1, "play an octave lower")
	up(1, "play an octave higher")
}

// slower lowers the tempo to what the move can be made at.
func (w *wayOut) slower() {
	if w.finding.TempoRatio <= 0 && w.finding.Time <= 0 {
		return
	}
	for i := range w.chart.Bars[:w.bar+1] {
		if w.chart.Bars[i].Tempo > 0 && i > 0 {
			return // a tempo of its own is written there
		}
	}
	ratio := w.finding.TempoRatio
	if ratio <= 0 {
		ratio = reach.NearLimit * max(w.finding.Time, w.finding.Pace) / w.finding.Need
	}
	if tempo := float64(int(w.chart.TempoAt(0) * ratio)); tempo >= project.MinTempo {
		w.add(phrase.Of("play it at %.0f", tempo), project.SetTempo{Tempo: tempo})
	}
}

// takes offers the passage's other takes.
func (w *wayOut) takes() {
	for i, t := range w.passage.Takes {
		if i != w.passage.Take {
			w.add(w.inPassage(phrase.Of("use the take %s", t.Name)), project.UseTake{Passage: w.index, Take: i})
		}
	}
}

// consoles offers the instruments that have the keys.
func (w *wayOut) consoles() {
	for _, k := range project.Consoles() {
		if k.ID != w.chart.Console {
			w.add(phrase.Of("play it on the console %s", phrase.Of(k.Name)), project.SetConsole{Console: k.ID})
		}
	}
}
