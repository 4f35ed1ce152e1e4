package project

import (
	"errors"
	"fmt"
	"slices"
)

// MakeTake keeps the arrangement of a passage as a take and goes on with a copy
// of it under another name. The first time, what was there is kept as "Take 1".
type MakeTake struct {
	Passage int
	NewName string
	// Change is what the new take starts with; the zero value copies the
	// treatment that is in use.
	Change TreatmentChange
}

// TreatmentChange is a treatment, or nothing.
type TreatmentChange struct {
	Given     bool
	Treatment Treatment
}

// Name returns "make take".
func (MakeTake) Name() string { return "make take" }

// Apply fails for a passage that is not there or has MaxTakes takes already.
func (e MakeTake) Apply(c *Chart) (*Chart, error) {
	if e.Passage < 0 || e.Passage >= len(c.Passages) {
		return nil, errNoPassage
	}
	if len(c.Passages[e.Passage].Takes) >= MaxTakes {
		return nil, fmt.Errorf("a passage has at most %d takes", MaxTakes)
	}
	return c.withPassage(e.Passage, func(d *Chart, p *Passage) {
		if len(p.Takes) == 0 {
			p.Takes, p.Take = []Take{{ID: 1, Name: "Take 1"}}, 0
		}
		old := p.Takes[p.Take].ID
		p.Takes = slices.Clone(p.Takes)
		p.shelve()
		p.Takes = append(p.Takes, Take{ID: p.nextTakeID(), Name: p.nameOf(e.NewName)})
		p.Take = len(p.Takes) - 1
		if e.Change.Given {
			p.Treatment = e.Change.Treatment
		}
		d.copyPins(e.Passage, old)
	})
}

// nameOf returns a name fit for a take, one by number when it is blank.
func (p *Passage) nameOf(name string) string {
	if name = OneLine(name, MaxLabel); name == "" {
		name = fmt.Sprintf("Take %d", len(p.Takes)+1)
	}
	return name
}

// copyPins puts copies of a passage's pins on the shelf of a take.
func (c *Chart) copyPins(passage, take int) {
	start, end := c.PassageTime(passage)
	shelved := slices.Clone(c.Shelved)
	for _, p := range c.Pins {
		if p.Start >= start && p.Start < end {
			shelved = append(shelved, ShelvedPin{take, p})
		}
	}
	c.Shelved = sortShelved(shelved)
}

// errNoTake answers an edit of a take that is not there.
var errNoTake = errors.New("there is no such take")

// withTake is withPassage for an edit of one of its takes.
func (c *Chart) withTake(passage, take int, change func(*Chart, *Passage)) (*Chart, error) {
	if passage < 0 || passage >= len(c.Passages) {
		return nil, errNoPassage
	}
	if take < 0 || take >= len(c.Passages[passage].Takes) {
		return nil, errNoTake
	}
	return c.withPassage(passage, func(d *Chart, p *Passage) {
		p.Takes = slices.Clone(p.Takes)
		change(d, p)
	})
}

// UseTake puts another take of a passage in use.
type UseTake struct{ Passage, Take int }

// Name returns "use take".
func (UseTake) Name() string { return "use take" }

// Apply fails for a take that is not there; the one in use changes nothing.
func (e UseTake) Apply(c *Chart) (*Chart, error) {
	return c.withTake(e.Passage, e.Take, func(d *Chart, p *Passage) { d.useTake(e.Passage, p, e.Take) })
}

func (c *Chart) useTake(passage int, p *Passage, take int) {
	if take == p.Take {
		return
	}
	from := p.Takes[p.Take].ID
	p.shelve()
	p.use(take)
	c.swapPins(passage, from, p.Takes[take].ID)
}

// RenameTake changes the name of a take; line breaks become blanks.
type RenameTake struct {
	Passage, Take int
	To            string
}

// Name returns "rename take".
func (RenameTake) Name() string { return "rename take" }

// Apply fails for a take that is not there.
func (e RenameTake) Apply(c *Chart) (*Chart, error) {
	return c.withTake(e.Passage, e.Take, func(_ *Chart, p *Passage) { p.Takes[e.Take].Name = OneLine(e.To, MaxLabel) })
}

// DropTake deletes a take. When it is the one in use, the one before it (or
// else the next) comes into use.
type DropTake struct{ Passage, Take int }

// Name returns "delete take".
func (DropTake) Name() string { return "delete take" }

// Apply fails for a take that is not there and for the last one left.
func (e DropTake) Apply(c *Chart) (*Chart, error) {
	if e.Passage >= 0 && e.Passage < len(c.Passages) && len(c.Passages[e.Passage].Takes) == 1 {
		return nil, errors.New("a passage keeps at least one take")
	}
	return c.withTake(e.Passage, e.Take, func(d *Chart, p *Passage) {
		if e.Take == p.Take {
			next := e.Take - 1
			if next < 0 {
				next = 1
			}
			d.useTake(e.Passage, p, next)
		}
		p.Takes = slices.Delete(p.Takes, e.Take, e.Take+1)
		if p.Take > e.Take {
			p.Take--
		}
	})
}
