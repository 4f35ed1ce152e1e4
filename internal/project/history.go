package project

import "slices"

// A history is a list of charts. Charts are immutable values that share the
// slices an edit did not touch, so the list costs little more than what was
// edited, and undoing is no computation: it is going back one place.
//
//	entries   0        1         2         3
//	         open   add note  set key   move note
//	                             ^ at         (3 can be redone)
//
// Entry 0 is the chart as it was opened. Every other entry holds the chart an
// edit made, the edit's name, and the selection on either side of it, so that
// undo and redo put the selection back as well. A new edit drops what could
// still be redone. saved remembers which entry is on disk; the chart is dirty
// when that is not the current one. The oldest entries fall off beyond
// maxEntries; when the saved one is among them, or was dropped by a new edit,
// no entry counts as saved until MarkSaved.

// maxEntries bounds the undo steps kept.
const maxEntries = 1000

// nowhere is the place of a saved chart that is no longer in the list.
const nowhere = -1

// History holds a chart and the way it came about. Use NewHistory. It is
// changed by its methods and belongs to one goroutine; the charts in it may be
// read by any.
type History struct {
	entries []historyEntry
	at      int
	saved   int
}

type historyEntry struct {
	chart         *Chart
	name          string
	before, after Selection
}

// NewHistory starts a history at a chart that counts as saved. For a chart
// that is on no disk, such as an import, follow with MarkUnsaved.
func NewHistory(c *Chart) *History {
	return &History{entries: []historyEntry{{chart: c}}}
}

// Chart returns the current chart.
func (h *History) Chart() *Chart { return h.entries[h.at].chart }

// Do applies an edit, given what is selected, and returns what is selected
// after it. On an error nothing has changed and the error is a sentence to
// show. An edit that changes nothing leaves no entry.
func (h *History) Do(e Edit, selected Selection) (Selection, error) {
	chart, err := e.Apply(h.Chart())
	if err != nil {
		return selected, err
	}
	after := selectionAfter(e, h.Chart(), chart, selected)
	if chart.Equal(h.Chart()) {
		return after, nil
	}
	if h.saved > h.at {
		h.saved = nowhere
	}
	h.entries = append(h.entries[:h.at+1:h.at+1], historyEntry{chart, e.Name(), selected, after})
	h.at++
	h.trim()
	return after, nil
}

// selectionAfter asks the edit, or keeps of the selection what still exists.
func selectionAfter(e Edit, before, after *Chart, selected Selection) Selection {
	if s, ok := e.(Selecting); ok {
		selected = s.Select(before, after, selected)
	}
	return selected.In(after)
}

// trim drops the oldest entries beyond the bound.
func (h *History) trim() {
	extra := len(h.entries) - maxEntries
	if extra <= 0 {
		return
	}
	h.entries = append([]historyEntry(nil), h.entries[extra:]...)
	h.at -= extra
	h.saved = max(nowhere, h.saved-extra)
}

// CanUndo returns the name of the edit Undo takes back; ok is false when there
// is none.
func (h *History) CanUndo() (name string, ok bool) {
	return h.entries[h.at].name, h.at > 0
}

// CanRedo returns the name of the edit Redo makes again; ok is false when
// there is none.
func (h *History) CanRedo() (name string, ok bool) {
	if h.at+1 == len(h.entries) {
		return "", false
	}
	return h.entries[h.at+1].name, true
}

// Undo takes the last edit back and returns what was selected before it; ok is
// false when there is nothing to undo.
func (h *History) Undo() (selected Selection, ok bool) {
	if h.at == 0 {
		return Selection{}, false
	}
	h.at--
	return h.entries[h.at+1].before, true
}

// Redo makes the last undone edit again and returns what was selected after
// it; ok is false when there is nothing to redo.
func (h *History) Redo() (selected Selection, ok bool) {
	if h.at+1 == len(h.entries) {
		return Selection{}, false
	}
	h.at++
	return h.entries[h.at].after, true
}

// Dirty reports whether the current chart differs from the saved one.
func (h *History) Dirty() bool { return h.at != h.saved }

// MarkSaved notes that the current chart is on disk.
func (h *History) MarkSaved() { h.saved = h.at }

// MarkSavedAs notes that a chart is on disk, which need not be the current one
// any more: writing takes a while, and work goes on. One that has left the
// history leaves no entry saved.
func (h *History) MarkSavedAs(c *Chart) {
	h.saved = slices.IndexFunc(h.entries, func(e historyEntry) bool { return e.chart == c })
}

// MarkUnsaved notes that no chart of the history is on disk.
func (h *History) MarkUnsaved() { h.saved = nowhere }
