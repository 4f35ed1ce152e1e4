package project

import (
	"errors"
	"fmt"
	"slices"

	"organbook/internal/theory"
)

// InsertBars puts Count empty bars in front of bar At; At = len(Bars) appends
// them. They take the meter of the bar before them and belong to its passage
// and, inside one, to its ending. A note held over the place ends there.
type InsertBars struct{ At, Count int }

// Name returns "insert 4 bars".
func (e InsertBars) Name() string { return "insert " + counted(e.Count, "bar") }

// Apply fails outside the chart and beyond MaxBars.
func (e InsertBars) Apply(c *Chart) (*Chart, error) {
	switch {
	case e.At < 0 || e.At > len(c.Bars) || e.Count < 1:
		return nil, errors.New("bars can only be inserted between the bars of the chart")
	case e.Count > MaxBars-len(c.Bars):
		return nil, fmt.Errorf("a chart has at most %d bars", MaxBars)
	}
	bar := e.bar(c)
	return c.with(func(d *Chart) {
		at := c.BarStart(e.At)
		d.cutHeld(at)
		d.insertTime(at, Ticks(e.Count)*bar.Length)
		d.Bars = slices.Insert(slices.Clone(c.Bars), e.At, slices.Repeat([]Bar{bar}, e.Count)...)
		d.Passages = shiftPassages(c.Passages, e.At, e.Count)
	})
}

// bar returns the bar to insert.
func (e InsertBars) bar(c *Chart) Bar {
	before := c.Bars[max(0, e.At-1)]
	bar := NewBar(before.Meter)
	if e.At > 0 && e.At < len(c.Bars) && !c.Bars[e.At].EndingStart && sameEnding(before, c.Bars[e.At]) {
		bar.Ending = before.Ending
	}
	return bar
}

// Select selects the new bars.
func (e InsertBars) Select(_, _ *Chart, _ Selection) Selection {
	return BarSelection(e.At, e.At+e.Count)
}

// RemoveBars takes bars First to End, end excluded, out of the chart with all
// that is in them. The chord, key and tempo in force behind them are kept.
type RemoveBars struct{ First, End int }

// Name returns "remove 2 bars".
func (e RemoveBars) Name() string { return "remove " + counted(e.End-e.First, "bar") }

// Apply fails outside the chart and when no bar would remain.
func (e RemoveBars) Apply(c *Chart) (*Chart, error) {
	switch {
	case e.First < 0 || e.End > len(c.Bars) || e.First >= e.End:
		return nil, errors.New("there are no such bars to remove")
	case e.End-e.First == len(c.Bars):
		return nil, errors.New("a chart keeps at least one bar")
	}
	return c.with(func(d *Chart) {
		starts := c.BarStarts()
		d.removeTime(starts[e.First], starts[e.End])
		d.Bars = e.bars(c)
		if e.First == 0 {
			d.settleFront()
		}
		d.Passages = shrinkPassages(c.Passages, e.First, e.End, len(d.Bars))
	})
}

// Select selects nothing.
func (RemoveBars) Select(_, _ *Chart, _ Selection) Selection { return Selection{} }

// bars returns the remaining bars; the first one behind the gap inherits the
// key and tempo that held there.
func (e RemoveBars) bars(c *Chart) []Bar {
	bars := slices.Delete(slices.Clone(c.Bars), e.First, e.End)
	if e.First < len(bars) {
		next := &bars[e.First]
		for _, gone := range slices.Backward(c.Bars[e.First:e.End]) {
			if !next.Key.IsValid() {
				next.Key = gone.Key
			}
			if next.Tempo == 0 {
				next.Tempo = gone.Tempo
			}
		}
	}
	mendEndings(bars)
	return bars
}

// SetBar replaces a bar: its meter, length, marks, key and tempo. Time is
// added or taken away at the bar's end and everything behind shifts; a note
// held over the end stays held.
type SetBar struct {
	Index int
	Bar   Bar
}

// Name returns "change bar".
func (SetBar) Name() string { return "change bar" }

// Apply fails outside the chart and for a bar that Check refuses. The start
// marks of endings are put right by themselves.
func (e SetBar) Apply(c *Chart) (*Chart, error) {
	if e.Index < 0 || e.Index >= len(c.Bars) {
		return nil, errors.New("there is no such bar")
	}
	if e.Bar.Length <= 0 || e.Bar.Length > MaxBarLength {
		return nil, Problem{c.PositionText(c.BarStart(e.Index)), "a bar needs a length of at most 64 whole notes"}
	}
	return c.with(func(d *Chart) {
		d.resizeBar(e.Index, e.Bar.Length)
		d.Bars = slices.Clone(c.Bars)
		d.Bars[e.Index] = e.Bar
		d.Bars[e.Index].Ending = slices.Clone(e.Bar.Ending)
		mendEndings(d.Bars)
		if e.Index == 0 {
			d.settleFront()
		}
	})
}

// Select keeps the same notes selected where they have moved to.
func (e SetBar) Select(before, _ *Chart, selected Selection) Selection {
	if selected.Kind == SelectBars {
		return selected
	}
	end := before.BarStart(e.Index + 1)
	by := e.Bar.Length - before.Bars[e.Index].Length
	var starts []Ticks
	for _, t := range selected.Starts {
		switch {
		case t >= end:
			starts = append(starts, t+by)
		case t < end+by:
			starts = append(starts, t)
		}
	}
	if len(starts) == 0 {
		return Selection{}
	}
	selected.Starts = starts
	return selected
}

// settleFront makes a key and tempo written at the first bar the chart's own,
// so that there is one place to look for each. The bars must be c's own.
func (c *Chart) settleFront() {
	first := &c.Bars[0]
	if first.Key.IsValid() {
		c.Key, first.Key = first.Key, theory.Key{}
	}
	if first.Tempo != 0 {
		c.Tempo, first.Tempo = first.Tempo, 0
	}
}

// resizeBar adds or removes time at the end of a bar, but leaves Bars alone.
func (c *Chart) resizeBar(i int, length Ticks) {
	start, old := c.BarStart(i), c.Bars[i].Length
	switch {
	case length > old:
		c.insertTime(start+old, length-old)
	case length < old:
		c.removeTime(start+length, start+old)
	}
}
