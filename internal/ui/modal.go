package ui

import (
	"slices"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/command"
)

// modals knows the part of each open dialog that takes the keys which nothing
// in it has the keyboard for: the toolkit takes the keyboard away from a dialog
// when it is clicked beside its fields and buttons, and Escape would be dead
// from then on.
type modals struct {
	open []modal
}

// modal is one open dialog.
type modal struct {
	overlay fyne.CanvasObject
	home    fyne.Focusable
}

// giveDialog gives a part of the dialog that was opened just now the keyboard,
// and makes it the one that keys go back to.
func (w *Window) giveDialog(home fyne.Focusable) {
	overlays := w.win.Canvas().Overlays()
	w.modals.open = slices.DeleteFunc(w.modals.open, func(m modal) bool { return !slices.Contains(overlays.List(), m.overlay) })
	w.modals.open = append(w.modals.open, modal{overlays.Top(), home})
	w.win.Canvas().Focus(home)
}

// wake gives the dialog on top its keyboard back and returns who has it; nil if
// no dialog of ours is on top.
func (w *Window) wake() fyne.Focusable {
	top := w.win.Canvas().Overlays().Top()
	for _, m := range slices.Backward(w.modals.open) {
		if top != nil && m.overlay == top {
			w.win.Canvas().Focus(m.home)
			return m.home
		}
	}
	return nil
}

// regain is for a dialog that has closed: who had the keyboard before it keeps
// it, so that the keys of the console or the bench do not write notes all of a
// sudden. The grid takes it if nobody had it, or a chord was being typed.
func (w *Window) regain() {
	now := w.win.Canvas().Focused()
	if _, typing := now.(*chordEntry); now == nil || typing {
		w.focusPanel(command.Grid)
	} else if o, ok := now.(fyne.CanvasObject); ok && !o.Visible() {
		w.focusPanel(command.Grid)
	}
}
