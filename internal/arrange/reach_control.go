package arrange

import (
	"math"

	"organbook/internal/phrase"
	"organbook/internal/project"
)

// Ways out where a registration, the rotary speaker or the swell changes at the
// border of a passage and no limb is free for it. An organist makes such a change
// in a rest nearby, lets the last note go sooner, or does without.

// nearBars is how far from the border a change may go.
const nearBars = 4

// moveControl puts the change at the start of a bar nearby where a hand is free:
// the bars between there and the border keep all but their registration.
func (w *wayOut) moveControl() {
	first, end := w.chart.PassageBars(w.index)
	if w.index == 0 || first != w.bar {
		return
	}
	before := &w.chart.Passages[w.index-1]
	for by := 1; by <= nearBars; by++ {
		if bar := first - by; bar > before.First {
			w.controlAt(bar, before.Name, w.passage.Registration)
		}
		if bar := first + by; bar < end {
			w.controlAt(bar, w.passage.Name, before.Registration)
		}
	}
}

// controlAt makes a border of the registration at a bar where a hand is free.
// between is what the bars from there to the old border, or from the old border to
// there, then sound with; in either case they are the passage of the finding's
// number.
func (w *wayOut) controlAt(bar int, name string, between project.Registration) {
	if w.handFree(w.chart.BarStart(bar)) {
		w.add(phrase.Of("change the registration at bar %d, where a hand is free", w.chart.BarNumber(bar)),
			project.SplitPassage{Bar: bar, NewName: name}, project.SetRegistration{Passage: w.index, Registration: between})
	}
}

// handFree reports whether a hand rests at a position for as long as the control
// takes.
func (w *wayOut) handFree(at project.Ticks) bool {
	need := w.needed(at)
	for _, hand := range []Limb{RightHand, LeftHand} {
		before, after := at-need, at+need
		free := true
		for i := range w.rr.Realisation.Notes {
			n := &w.rr.Realisation.Notes[i]
			switch end := n.Start + n.Duration; {
			case n.Limb != hand:
			case n.Start < at && end > at:
				free = false
			case end <= at:
				before = max(before, end)
			default:
				after = min(after, n.Start)
			}
		}
		if free && after-before >= need {
			return true
		}
	}
	return false
}

// needed is what the control takes at the tempo of a position.
func (w *wayOut) needed(at project.Ticks) project.Ticks {
	return project.Ticks(math.Ceil(w.finding.Need * w.chart.TempoAt(at) / 60 * float64(project.Quarter)))
}

// shorterNote ends the last melody note before the change in time for it, on a
// sixteenth; it keeps at least one.
func (w *wayOut) shorterNote() {
	const grid = project.Quarter / 4
	at := project.Ticks(w.finding.At)
	for i := range w.chart.Melody {
		n := &w.chart.Melody[i]
		if end := n.Start + n.Duration; n.Start >= at || end <= at-w.needed(at) || end > at {
			continue
		}
		to := (at - w.needed(at) - n.Start) / grid * grid
		if to < grid {
			return
		}
		w.add(phrase.Of("end the note before the change sooner, to leave a hand the time"), project.ResizeNotes{Starts: []project.Ticks{n.Start}, To: to})
		return
	}
}

// keepSetting leaves out as little of the change as may help: the swell for the
// foot, the rotary speaker, or all of the registration.
func (w *wayOut) keepSetting() {
	if w.index == 0 {
		return
	}
	before, now := w.chart.Passages[w.index-1].Registration, w.passage.Registration
	keep := func(text string, r project.Registration) {
		if r != now {
			w.add(w.inPassage(phrase.Of(text)), project.SetRegistration{Passage: w.index, Registration: r})
		}
	}
	swell, rotary := now, now
	swell.Swell, swell.Glide, rotary.Rotary = before.SwellAt(1), 0, before.Rotary
	if !w.finding.Limb.IsHand() {
		keep("keep the swell of the passage before", swell)
	} else {
		keep("keep the rotary speaker of the passage before", rotary)
	}
	keep("keep the registration of the passage before", before)
}
