package arrange

import (
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

// CheckReach fingers and pedals a realisation for a player. options are those
// it was realised with; remedies are tried with the same.
func CheckReach(r *Realisation, options Options, p reach.Profile) *ReachReport {
	rr := &ReachReport{Realisation: r, Profile: p, Report: reach.Check(pieceOf(r, p)), options: options, tried: map[string]*reach.Report{}}
	if len(rr.Findings) == 0 {
		return rr
	}
	rule := r.Chart.Ruler()
	for _, f := range rr.Findings {
		at := project.Ticks(f.At)
		rr.Places = append(rr.Places, Place{
			Start: at, Bar: rule.BarAt(at), End: rule.BarAt(project.Ticks(f.Until)) + 1, Text: rule.PositionText(at),
		})
	}
	return rr
}

// Apply returns the realisation's notes with fingers, feet and their parts as
// the report has them.
func (rr *ReachReport) Apply() []Note {
	notes := make([]Note, len(rr.Realisation.Notes))
	copy(notes, rr.Realisation.Notes)
	for i := range notes {
		m := &rr.Marks[i]
		notes[i].Finger = m.Finger
		if m.Part != reach.NoPart {
			notes[i].Limb = Limb(m.Foot)
		}
	}
	return notes
}
