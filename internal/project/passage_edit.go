package project

import (
	"errors"
	"fmt"
	"slices"
)

// shiftPassages returns the passages after count bars were inserted in front
// of bar at: they join the passage of the bar before.
func shiftPassages(passages []Passage, at, count int) []Passage {
	shifted := slices.Clone(passages)
	for i := range shifted {
		if shifted[i].First >= at && shifted[i].First > 0 {
			shifted[i].First += count
		}
	}
	return shifted
}

// shrinkPassages returns the passages after bars first to end were removed and
// so many bars remain. A passage that lost every bar goes.
func shrinkPassages(passages []Passage, first, end, remain int) []Passage {
	var kept []Passage
	for _, p := range passages {
		if p.First > first {
			p.First = max(first, p.First-(end-first))
		}
		if n := len(kept); n > 0 && kept[n-1].First == p.First {
			kept = kept[:n-1] // the one before has no bar left
		}
		if p.First < remain {
			kept = append(kept, p)
		}
	}
	return kept
}

// errNoPassage answers an edit of a passage that is not there.
var errNoPassage = errors.New("there is no such passage")

// withPassage returns the chart with one passage altered.
func (c *Chart) withPassage(i int, change func(*Chart, *Passage)) (*Chart, error) {
	if i < 0 || i >= len(c.Passages) {
		return nil, errNoPassage
	}
	return c.with(func(d *Chart) {
		d.Passages = slices.Clone(c.Passages)
		change(d, &d.Passages[i])
	})
}

// SetTreatment changes how a passage is harmonised.
type SetTreatment struct {
	Passage   int
	Treatment Treatment
}

// Name returns "set treatment".
func (SetTreatment) Name() string { return "set treatment" }

// Apply fails for a passage that is not there.
func (e SetTreatment) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.Treatment = e.Treatment })
}

// SetPlan changes which limb plays what in a passage.
type SetPlan struct {
	Passage int
	Plan    HandPlan
}

// Name returns "set hand plan".
func (SetPlan) Name() string { return "set hand plan" }

// Apply fails for a passage that is not there.
func (e SetPlan) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.Plan = e.Plan })
}

// SetBass changes what the feet play in a passage.
type SetBass struct {
	Passage int
	Bass    BassStyle
}

// Name returns "set bass".
func (SetBass) Name() string { return "set bass" }

// Apply fails for a passage that is not there.
func (e SetBass) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.Bass = e.Bass })
}

// SetRegistration changes the registration of a passage.
type SetRegistration struct {
	Passage      int
	Registration Registration
}

// Name returns "set registration".
func (SetRegistration) Name() string { return "set registration" }

// Apply fails for a passage that is not there or drawbars out of range.
func (e SetRegistration) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.Registration = e.Registration })
}

// RenamePassage changes a passage's name; line breaks become blanks.
type RenamePassage struct {
	Passage int
	To      string
}

// Name returns "rename passage".
func (RenamePassage) Name() string { return "rename passage" }

// Apply fails for a passage that is not there.
func (e RenamePassage) Apply(c *Chart) (*Chart, error) {
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.Name = OneLine(e.To, MaxLabel) })
}

// SplitPassage starts a new passage at a bar, with the settings of the one it
// is split from; a swell that glides goes through both as it did through one.
type SplitPassage struct {
	// Bar is the index of the new passage's first bar.
	Bar int
	// NewName is the new passage's name.
	NewName string
}

// Name returns "split passage".
func (SplitPassage) Name() string { return "split passage" }

// Apply fails where a passage starts already and outside the chart.
func (e SplitPassage) Apply(c *Chart) (*Chart, error) {
	if e.Bar < 0 || e.Bar >= len(c.Bars) {
		return nil, errors.New("there is no such bar to start a passage at")
	}
	i := c.PassageAt(e.Bar)
	if c.Passages[i].First == e.Bar {
		return nil, fmt.Errorf("a passage starts at bar %d already", c.BarNumber(e.Bar))
	}
	p := c.Passages[i]
	p.First, p.Name = e.Bar, OneLine(e.NewName, MaxLabel)
	p.Takes = slices.Clone(p.Takes)
	former := c.Passages[i]
	former.Takes = slices.Clone(former.Takes)
	start, end := c.PassageTime(i)
	part := float64(c.BarStart(e.Bar)-start) / float64(end-start)
	former.Registration, p.Registration = p.Registration.cut(part)
	for k := range p.Takes {
		former.Takes[k].Registration, p.Takes[k].Registration = p.Takes[k].Registration.cut(part)
	}
	return c.with(func(d *Chart) {
		d.Passages = slices.Insert(slices.Clone(c.Passages), i+1, p)
		d.Passages[i] = former
	})
}

// JoinPassage gives the bars of a passage to the one before it, which keeps its
// settings; a swell that glides through both goes on doing so.
type JoinPassage struct{ Passage int }

// Name returns "join passages".
func (JoinPassage) Name() string { return "join passages" }

// Apply fails for the first passage, which has none before it.
func (e JoinPassage) Apply(c *Chart) (*Chart, error) {
	if e.Passage < 1 || e.Passage >= len(c.Passages) {
		return nil, errors.New("there is no passage before this one to join it to")
	}
	return c.with(func(d *Chart) {
		d.Passages = slices.Delete(slices.Clone(c.Passages), e.Passage, e.Passage+1)
		former, latter := &d.Passages[e.Passage-1], &c.Passages[e.Passage]
		former.Registration = former.Registration.joined(latter.Registration)
		former.Takes = slices.Clone(former.Takes)
		for i := range former.Takes {
			t := &former.Takes[i]
			if k := latter.takeByID(t.ID); k >= 0 { // the one in use is at rest here
				t.Registration = t.Registration.joined(latter.Takes[k].Registration)
			}
		}
	})
}

// MovePassageBorder makes a passage start at another bar; the passage before
// it gains or loses the bars between.
type MovePassageBorder struct{ Passage, To int }

// Name returns "move passage border".
func (MovePassageBorder) Name() string { return "move passage border" }

// Apply fails for the first passage and when either neighbour would be left
// without a bar.
func (e MovePassageBorder) Apply(c *Chart) (*Chart, error) {
	if e.Passage < 1 || e.Passage >= len(c.Passages) {
		return nil, errors.New("only the border between two passages can be moved")
	}
	_, end := c.PassageBars(e.Passage)
	if e.To <= c.Passages[e.Passage-1].First || e.To >= end {
		return nil, errors.New("each passage keeps at least one bar")
	}
	return c.withPassage(e.Passage, func(_ *Chart, p *Passage) { p.First = e.To })
}
