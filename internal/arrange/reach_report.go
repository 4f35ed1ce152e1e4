package arrange

import (
	"cmp"
	"slices"

	"organbook/internal/phrase"
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

// profile returns the player an arrangement is for: the chart's own before
// the one of the options.
func (o Options) profile(c *project.Chart) reach.Profile {
	switch {
	case c.Player != nil:
		return ProfileOf(c.Player)
	case o.Profile != nil:
		return *o.Profile
	}
	return reach.DefaultProfile()
}

// ProfileOf returns a chart's player as the reach model knows it.
func ProfileOf(p *project.Player) reach.Profile {
	hand := func(s project.Stretch) reach.Stretch {
		return reach.Stretch{Comfortable: reach.Millimetres(s.Comfortable), Maximal: reach.Millimetres(s.Maximal)}
	}
	out := reach.Profile{Name: p.Name, Hands: [2]reach.Stretch{hand(p.Right), hand(p.Left)}, Speed: p.Speed, ThumbBridge: p.ThumbBridge}
	switch {
	case p.NoFeet:
		out.Feet = reach.NoFeet
	case p.LeftFootOnly:
		out.Feet = reach.LeftOnly
	}
	if p.Detached {
		out.Touch = reach.Detached
	}
	return out
}

// PlayerOf returns a profile as a chart keeps it; it is the inverse of
// ProfileOf but for limbs that are not free.
func PlayerOf(p reach.Profile) *project.Player {
	hand := func(s reach.Stretch) project.Stretch {
		return project.Stretch{Comfortable: float64(s.Comfortable), Maximal: float64(s.Maximal)}
	}
	return &project.Player{
		Name: p.Name, Right: hand(p.Hands[0]), Left: hand(p.Hands[1]), Speed: p.Speed, ThumbBridge: p.ThumbBridge,
		LeftFootOnly: p.Feet == reach.LeftOnly, NoFeet: p.Feet == reach.NoFeet, Detached: p.Touch == reach.Detached,
	}
}

// finger works out fingers, feet and findings of a realisation that has
// everything else.
func (r *Realisation) finger(o Options) {
	p := o.profile(r.Chart)
	var before *reach.Report
	if o.After != nil && o.After.reach != nil {
		before = o.After.reach.Report
	}
	o.After = nil // or all realisations of a session would be kept
	rr := &ReachReport{Realisation: r, Profile: p, Report: reach.CheckAfter(before, pieceOf(r, p)), options: o, tried: map[string]*reach.Report{}}
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
		n.Finger, n.Then, n.Glide, n.Part, n.Cross = m.Finger, m.Then, m.Glide, m.Part, m.Cross
		if m.Part != reach.NoPart {
			n.Limb = m.Foot
		}
	}
}

// tell adds the findings to those of the realisation.
func (rr *ReachReport) tell() {
	r := rr.Realisation
	for i := range rr.Findings {
		f := &rr.Findings[i]
		out := Finding{Start: project.Ticks(f.At), Bar: rr.Places[i].Bar, Limb: f.Limb, Severity: f.Severity, Text: f.Text}
		for _, m := range f.Remedies {
			out.Remedies = append(out.Remedies, phrase.Of(m.String()))
		}
		r.Findings = append(r.Findings, out)
	}
	slices.SortStableFunc(r.Findings, func(a, b Finding) int { return cmp.Compare(a.Start, b.Start) })
}
