package arrange

import (
	"cmp"
	"slices"

	"organbook/internal/project"
	"organbook/internal/reach"
)

// ReachReport is how a player's limbs play a realisation, and what cannot or
// should not be played.
type ReachReport struct {
	Realisation *Realisation
	Profile     reach.Profile
	// Report is the model's own report; its Marks run parallel to the
	// realisation's Notes.
	*reach.Report
	// Places says where each of the report's Findings is, in the same order.
	Places []Place

	options Options
	// tried remembers the reports of edits that Remedies has tried, because
	// findings of one passage share their ways out.
	tried map[string]*reach.Report
}

// Place is where a finding is.
type Place struct {
	Start project.Ticks
	// Bar is the index of the written bar, End the index after the last bar
	// concerned.
	Bar, End int
	// Text is bar and beat as the page counts them, such as "9.3".
	Text string
}

// Reach returns how the player's limbs play the realisation.
func (r *Realisation) Reach() *ReachReport { return r.reach }

func (o Options) profile() reach.Profile {
	if o.Profile == nil {
		return reach.DefaultProfile()
	}
	return *o.Profile
}

// finger works out fingers, feet and findings of a realisation that has
// everything else.
func (r *Realisation) finger(o Options) {
	p := o.profile()
	rr := &ReachReport{Realisation: r, Profile: p, Report: reach.Check(pieceOf(r, p)), options: o, tried: map[string]*reach.Report{}}
	rule := r.Chart.Ruler()
	for _, f := range rr.Findings {
		at := project.Ticks(f.At)
		rr.Places = append(rr.Places, Place{
			Start: at, Bar: rule.BarAt(at), End: rule.BarAt(project.Ticks(f.Until)) + 1, Text: rule.PositionText(at),
		})
	}
	r.reach = rr
	rr.mark()
	rr.tell()
}

// mark writes fingers and feet to the notes.
func (rr *ReachReport) mark() {
	for i := range rr.Realisation.Notes {
		n, m := &rr.Realisation.Notes[i], &rr.Marks[i]
		n.Finger, n.Then, n.Part, n.Cross = m.Finger, m.Then, m.Part, m.Cross
		if m.Part != reach.NoPart {
			n.Limb = Limb(m.Foot)
		}
	}
}

// tell adds the findings to those of the realisation.
func (rr *ReachReport) tell() {
	r := rr.Realisation
	for i := range rr.Findings {
		f := &rr.Findings[i]
		out := Finding{Start: project.Ticks(f.At), Bar: rr.Places[i].Bar, Limb: Limb(f.Limb), Severity: Severity(f.Severity), Text: f.Text}
		for _, m := range f.Remedies {
			out.Remedies = append(out.Remedies, m.String())
		}
		r.Findings = append(r.Findings, out)
	}
	slices.SortStableFunc(r.Findings, func(a, b Finding) int { return cmp.Compare(a.Start, b.Start) })
}
