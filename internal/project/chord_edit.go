package project

import (
	"slices"

	"organbook/internal/theory"
)

// SetChord writes a chord symbol at a position, in place of one already there.
type SetChord struct {
	Start Ticks
	Chord theory.Chord
}

// Name returns "set chord".
func (SetChord) Name() string { return "set chord" }

// Apply fails when the position lies outside the bars or the chord is not
// valid.
func (e SetChord) Apply(c *Chart) (*Chart, error) {
	return c.withChanges(putChange(c.Changes, Change(e)))
}

// Select selects the chord.
func (e SetChord) Select(_, _ *Chart, _ Selection) Selection { return ChordSelection(e.Start) }

// RemoveChord erases the symbol at a position; the one before it holds on.
type RemoveChord struct{ Start Ticks }

// Name returns "remove chord".
func (RemoveChord) Name() string { return "remove chord" }

// Apply fails when no symbol stands there.
func (e RemoveChord) Apply(c *Chart) (*Chart, error) {
	i, err := c.changeHere(e.Start)
	if err != nil {
		return nil, err
	}
	return c.withChanges(slices.Delete(slices.Clone(c.Changes), i, i+1))
}

// MoveChord moves a symbol in time, in place of one already at its goal.
type MoveChord struct{ From, To Ticks }

// Name returns "move chord".
func (MoveChord) Name() string { return "move chord" }

// Apply fails when no symbol stands at From or To lies outside the bars.
func (e MoveChord) Apply(c *Chart) (*Chart, error) {
	i, err := c.changeHere(e.From)
	if err != nil {
		return nil, err
	}
	rest := slices.Delete(slices.Clone(c.Changes), i, i+1)
	return c.withChanges(putChange(rest, Change{e.To, c.Changes[i].Chord}))
}

// Select follows the chord.
func (e MoveChord) Select(_, _ *Chart, _ Selection) Selection { return ChordSelection(e.To) }

func (c *Chart) changeHere(t Ticks) (int, error) {
	i, ok := c.ChangeStarting(t)
	if !ok {
		return 0, Problem{c.PositionText(t), "no chord symbol stands here"}
	}
	return i, nil
}

// putChange returns the changes with x added or put in the place of one at the
// same position.
func putChange(changes []Change, x Change) []Change {
	i, found := slices.BinarySearchFunc(changes, x.Start, func(y Change, t Ticks) int { return compare(y.Start, t) })
	changes = slices.Clone(changes)
	if found {
		changes[i] = x
		return changes
	}
	return slices.Insert(changes, i, x)
}

func (c *Chart) withChanges(changes []Change) (*Chart, error) {
	return c.with(func(d *Chart) { d.Changes = changes })
}
