package project

import (
	"errors"
	"fmt"
)

// Edit is one change a user can make and undo. Edits are small values that
// name what to do, so that a menu, a key and a test say the same thing.
type Edit interface {
	// Apply returns the changed chart, which passes Check and shares every
	// slice the edit did not touch. On an error, a sentence a dialog can show,
	// nothing has changed.
	Apply(c *Chart) (*Chart, error)
	// Name is what a menu shows after "Undo": "add note".
	Name() string
}

// Selecting is implemented by edits that know better than the default what is
// selected after them; History calls it with the chart the edit was given and
// the one it returned.
type Selecting interface {
	Select(before, after *Chart, selected Selection) Selection
}

// with returns a copy of c after change has altered it, checked. change must
// replace slices, never write into them.
func (c *Chart) with(change func(d *Chart)) (*Chart, error) {
	d := *c
	change(&d)
	d.settlePins()
	if err := d.Check(); err != nil {
		return nil, firstProblem(err)
	}
	return &d, nil
}

// firstProblem keeps an edit's error to one sentence.
func firstProblem(err error) error {
	var problem Problem
	if errors.As(err, &problem) {
		return problem
	}
	return err
}

// counted writes a number with its noun: "1 note", "3 notes".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
