package session

import (
	"slices"

	"organbook/internal/project"
)

// Selection is what the next command acts on. It is a value; its slices are
// never written to once it is stored.
type Selection struct {
	// Caret is the position where typing writes.
	Caret project.Ticks
	// Anchor is where an extension began.
	Anchor project.Ticks
	// Notes are the starts of the selected melody notes, ascending.
	Notes []project.Ticks
	// Bars, when Bars[1] > Bars[0], are whole bars chosen as such: from the
	// first up to but not including the second.
	Bars [2]int
}

// HasBars reports whether whole bars are chosen.
func (s Selection) HasBars() bool { return s.Bars[1] > s.Bars[0] }

// project returns the selection as the history keeps it.
func (s Selection) project() project.Selection {
	switch {
	case len(s.Notes) > 0:
		return project.NoteSelection(s.Notes...)
	case s.HasBars():
		return project.BarSelection(s.Bars[0], s.Bars[1])
	}
	return project.ChordSelection(s.Caret)
}

// fromProject turns what the history kept into a selection; the caret stays
// where it was unless something is selected.
func fromProject(p project.Selection, now Selection, c *project.Chart) Selection {
	sel := Selection{Caret: min(now.Caret, c.Length())}
	switch p.Kind {
	case project.SelectNotes:
		sel.Notes = p.In(c).Starts
	case project.SelectBars:
		sel.Bars = [2]int{p.First, p.End}
	case project.SelectChord:
		sel.Caret = min(p.Starts[0], c.Length())
	}
	if len(sel.Notes) > 0 {
		sel.Caret = sel.Notes[0]
	}
	sel.Anchor = sel.Caret
	return sel
}

// In returns the part of the selection that exists in c.
func (s Selection) In(c *project.Chart) Selection {
	end := c.Length()
	out := Selection{Caret: min(s.Caret, end), Anchor: min(s.Anchor, end)}
	for _, t := range s.Notes {
		if _, ok := c.NoteStarting(t); ok {
			out.Notes = append(out.Notes, t)
		}
	}
	out.Bars = [2]int{min(s.Bars[0], len(c.Bars)), min(s.Bars[1], len(c.Bars))}
	return out
}

// Selection returns the current selection.
func (s *Session) Selection() Selection { return s.sel }

func (s *Session) selectAs(sel Selection) {
	end := s.Chart().Length()
	sel.Caret = min(max(sel.Caret, 0), end)
	sel.Anchor = min(max(sel.Anchor, 0), end)
	if !slices.Equal(sel.Notes, s.sel.Notes) {
		s.grouped = nil // weighing many notes takes a while
	}
	s.sel = sel
	s.alternatives = nil
	s.notify(SelectionChanged)
}

// SelectedIndexes returns the indexes of the selected notes, ascending.
func (s *Session) SelectedIndexes() []int {
	var out []int
	for _, t := range s.sel.Notes {
		if i, ok := s.Chart().NoteStarting(t); ok {
			out = append(out, i)
		}
	}
	return out
}

// Current returns the index of the note the bench shows: the first selected
// one, the one that sounds at the caret, or the one that ends there.
func (s *Session) Current() (int, bool) {
	for _, t := range s.sel.Notes {
		if i, ok := s.Chart().NoteStarting(t); ok {
			return i, true
		}
	}
	if i, ok := s.Chart().NoteAt(s.sel.Caret); ok {
		return i, true
	}
	if i, ok := s.noteBefore(s.sel.Caret); ok && s.Chart().Melody[i].End() == s.sel.Caret {
		return i, true
	}
	return 0, false
}

// SelectNote selects one note, or with extend adds it (or takes it away when
// it was selected already).
func (s *Session) SelectNote(i int, extend bool) {
	m := s.Chart().Melody
	if i < 0 || i >= len(m) {
		return
	}
	start := m[i].Start
	notes := []project.Ticks{start}
	if extend {
		notes = toggled(s.sel.Notes, start)
	}
	s.selectAs(Selection{Caret: start, Anchor: start, Notes: notes})
}

func toggled(list []project.Ticks, t project.Ticks) []project.Ticks {
	out := slices.Clone(list)
	if i, ok := slices.BinarySearch(out, t); ok {
		return slices.Delete(out, i, i+1)
	} else {
		return slices.Insert(out, i, t)
	}
}

// SelectSpan selects every note that starts from a up to before b, or, with a
// pitch band, only those whose key lies from low to high.
func (s *Session) SelectSpan(a, b project.Ticks, low, high int) {
	if b < a {
		a, b = b, a
	}
	var notes []project.Ticks
	for _, n := range s.Chart().Melody {
		if k := n.Pitch.Key(); n.Start >= a && n.Start < b && k >= low && k <= high {
			notes = append(notes, n.Start)
		}
	}
	s.selectAs(Selection{Caret: a, Anchor: a, Notes: notes})
}

// SetCaret moves the caret and selects nothing, or the note starting there.
func (s *Session) SetCaret(t project.Ticks) {
	sel := Selection{Caret: t, Anchor: t}
	if i, ok := s.Chart().NoteStarting(t); ok {
		sel.Notes = []project.Ticks{s.Chart().Melody[i].Start}
	}
	s.selectAs(sel)
}

// SelectAll selects every note and every bar.
func (s *Session) SelectAll() {
	c := s.Chart()
	sel := Selection{Bars: [2]int{0, len(c.Bars)}}
	for _, n := range c.Melody {
		sel.Notes = append(sel.Notes, n.Start)
	}
	s.selectAs(sel)
}

// SelectBars chooses whole bars, with the notes that start in them.
func (s *Session) SelectBars(from, to int) {
	c := s.Chart()
	if to < from {
		from, to = to, from
	}
	from, to = max(from, 0), min(to+1, len(c.Bars))
	if from >= to {
		return
	}
	start, end := c.BarStart(from), c.BarStart(to)
	s.SelectSpan(start, end, 0, 127)
	s.sel.Bars = [2]int{from, to}
	s.notify(SelectionChanged)
}

// SelectNothing keeps the caret and drops the rest.
func (s *Session) SelectNothing() {
	s.selectAs(Selection{Caret: s.sel.Caret, Anchor: s.sel.Caret})
}

// BackOut does what Escape asks for, one thing at a time: it gives up a
// recording, selects nothing, or leaves step entry. It reports whether there was
// something to leave.
func (s *Session) BackOut() bool {
	switch {
	case s.record != nil:
		s.DiscardRecording()
	case len(s.sel.Notes) > 0 || s.sel.HasBars():
		s.SelectNothing()
	case s.played.steps:
		s.ToggleStepEntry()
	default:
		s.SelectNothing()
		return false
	}
	return true
}

// BarSpan returns the bars the selection touches: the chosen bars, or those of
// the selected notes, or the caret's.
func (s *Session) BarSpan() (from, to int) {
	if s.sel.HasBars() {
		return s.sel.Bars[0], s.sel.Bars[1]
	}
	c := s.Chart()
	first, last := s.sel.Caret, s.sel.Caret
	if n := len(s.sel.Notes); n > 0 {
		first, last = s.sel.Notes[0], s.sel.Notes[n-1]
	}
	return s.barAt(first), min(s.barAt(last)+1, len(c.Bars))
}

// barAt returns the bar that holds t; the chart's end belongs to the last bar.
func (s *Session) barAt(t project.Ticks) int {
	c := s.Chart()
	return min(max(c.BarAt(t), 0), len(c.Bars)-1)
}

// CurrentPassage returns the index of the passage the caret stands in.
func (s *Session) CurrentPassage() int {
	from, _ := s.BarSpan()
	return s.Chart().PassageAt(from)
}

// MoveCaret steps through the notes and the gaps between them: forward to the
// next note's start, the current note's end or the next step of the entry
// length, whichever comes first. With extend the notes passed are selected.
func (s *Session) MoveCaret(forward, extend bool) {
	t := s.stepFrom(s.sel.Caret, forward)
	if !extend {
		s.SetCaret(t)
		return
	}
	// A note that is selected stays so, and the first step goes beyond it.
	if anchor := s.sel.Anchor; s.anchored() && (forward && s.sel.Caret == anchor || !forward && t == anchor) {
		t = s.stepFrom(t, forward)
	}
	s.extendTo(t)
}

// anchored reports whether the note that starts at the anchor is selected.
func (s *Session) anchored() bool {
	_, ok := slices.BinarySearch(s.sel.Notes, s.sel.Anchor)
	return ok
}

func (s *Session) stepFrom(t project.Ticks, forward bool) project.Ticks {
	if forward {
		return s.stepForward(t)
	}
	return s.stepBack(t)
}

func (s *Session) stepForward(t project.Ticks) project.Ticks {
	c := s.Chart()
	if i, ok := s.Chart().NoteAt(t); ok {
		return c.Melody[i].End()
	}
	next := min(t+s.entry.Length(), c.BarStart(s.barAt(t))+c.Bars[s.barAt(t)].Length, c.Length())
	if i, _ := s.Chart().NoteStarting(t); i < len(c.Melody) {
		next = min(next, c.Melody[i].Start)
	}
	return next
}

func (s *Session) stepBack(t project.Ticks) project.Ticks {
	if t <= 0 {
		return 0
	}
	c := s.Chart()
	if i, ok := s.Chart().NoteAt(t - 1); ok {
		return c.Melody[i].Start
	}
	prev := max(t-s.entry.Length(), c.BarStart(s.barAt(t-1)))
	if i, _ := s.Chart().NoteStarting(t); i > 0 {
		prev = max(prev, c.Melody[i-1].End())
	}
	return prev
}

// extendTo selects the notes between the anchor and t.
func (s *Session) extendTo(t project.Ticks) {
	anchor := s.sel.Anchor
	a, b := min(anchor, t), max(anchor, t)
	if a == b || b == anchor && s.anchored() {
		b++
	}
	var notes []project.Ticks
	for _, n := range s.Chart().Melody {
		if n.Start < b && n.End() > a {
			notes = append(notes, n.Start)
		}
	}
	s.selectAs(Selection{Caret: t, Anchor: anchor, Notes: notes})
}

// MoveByBar moves the caret to the start of the next or previous bar.
func (s *Session) MoveByBar(forward, extend bool) {
	c := s.Chart()
	bar := s.barAt(s.sel.Caret)
	t := c.BarStart(bar)
	switch {
	case forward:
		t += c.Bars[bar].Length
	case t == s.sel.Caret && bar > 0:
		t = c.BarStart(bar - 1)
	}
	s.moveTo(t, extend)
}

// MoveToEdge moves the caret to the start or the end of the chart.
func (s *Session) MoveToEdge(end, extend bool) {
	if end {
		s.moveTo(s.Chart().Length(), extend)
		return
	}
	s.moveTo(0, extend)
}

// MoveTo moves the caret to the grid position at t, with extend selecting what
// lies between.
func (s *Session) MoveTo(t project.Ticks, extend bool) { s.moveTo(s.SnapTime(t), extend) }

func (s *Session) moveTo(t project.Ticks, extend bool) {
	if extend {
		s.extendTo(t)
		return
	}
	s.SetCaret(t)
}

// SelectStarts selects the notes that start at the given ascending positions,
// with extend besides what is selected. The caret goes to the first.
func (s *Session) SelectStarts(starts []project.Ticks, extend bool) {
	if extend {
		starts = append(slices.Clone(s.sel.Notes), starts...)
		slices.Sort(starts)
		starts = slices.Compact(starts)
	}
	sel := Selection{Caret: s.sel.Caret, Anchor: s.sel.Caret, Notes: starts}
	if len(starts) > 0 {
		sel.Caret, sel.Anchor = starts[0], starts[0]
	}
	s.selectAs(sel)
}

// ExtendTo selects the notes from the anchor to the grid position at t.
func (s *Session) ExtendTo(t project.Ticks) { s.extendTo(s.SnapTime(t)) }

// CaretKey is the row the caret stands in: that of the note before it, or the
// middle of where leads lie.
func (s *Session) CaretKey() int {
	if i, ok := s.noteBefore(s.sel.Caret); ok {
		return s.Chart().Melody[i].Pitch.Key()
	}
	if i, _ := s.Chart().NoteStarting(s.sel.Caret); i < len(s.Chart().Melody) {
		return s.Chart().Melody[i].Pitch.Key()
	}
	return firstLead
}
