package ui

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
)

// scales are the sizes of everything in the window, in percent; the toolkit
// rounds to tens.
var scales = []int{100, 110, 120, 130, 150, 170, 200, 230, 250}

// ScaleOf returns how large the user wants everything, in percent, 0 where none
// was chosen.
func ScaleOf(a fyne.App) int { return preferences{a.Preferences()}.scale() }

// nextScale returns the size some steps from another, within what there is; no
// step is the usual size.
func nextScale(now, step int) int {
	if step == 0 {
		return scales[0]
	}
	i, there := slices.BinarySearch(scales, now)
	if step < 0 || there {
		i += step
	}
	return scales[min(max(i, 0), len(scales)-1)]
}

// Scale makes everything bigger or smaller within the window, which keeps its
// size on the screen, and remembers it.
func (w *Window) Scale(step int) {
	next := nextScale(w.scale, step)
	size := w.win.Canvas().Size()
	by := float32(w.scale) / float32(next)
	size = fyne.NewSize(size.Width*by, size.Height*by)
	switch {
	case w.opts.SetScale == nil:
		return
	case next > w.scale && (size.Width < leastSize.Width || size.Height < leastSize.Height):
		w.session.Say(fmt.Sprintf("The window is too small for %d %%: make it larger first.", next))
		return
	}
	w.scale = next
	w.prefs.setScale(next)
	w.opts.SetScale(next)
	w.app.Settings().SetTheme(w.look) // the driver measures its windows again
	w.win.Resize(size)
	w.session.Say(fmt.Sprintf("Everything at %d %%.", next))
}
