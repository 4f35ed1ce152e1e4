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
	size, before := w.win.Canvas().Size(), w.win.Canvas().Scale()
	by := float32(w.scale) / float32(next)
	small := fyne.NewSize(size.Width*by, size.Height*by)
	switch {
	case w.opts.SetScale == nil:
		return
	case next > w.scale && (small.Width < leastSize.Width || small.Height < leastSize.Height):
		w.session.Say(fmt.Sprintf("The window is too small for %d %%: make it larger first.", next))
		return
	}
	w.scale = next
	w.prefs.setScale(next)
	w.opts.SetScale(next)
	w.app.Settings().SetTheme(w.look) // the driver measures its windows again
	if after := w.win.Canvas().Scale(); after != before {
		w.dots = w.dots.of(size, before)
		small = w.dots.at(after)
	}
	w.win.Resize(small)
	w.session.Say(fmt.Sprintf("Everything at %d %%.", next))
}

// dots is how large the window is on the screen, the zero value before it is known.
// The driver tells its size in units rounded up, and rounds up to whole dots what
// it is asked for: a window whose size is taken from there for each change gets
// larger each time.
type dots struct{ width, height int }

// of returns the dots of a window that is so large in units at a scale: the ones it
// had if these can be so many units, and else the most that can.
func (d dots) of(size fyne.Size, scale float32) dots {
	side := func(known int, units float32) int {
		if rounded := float64(units) - float64(known)/float64(scale); rounded > -0.01 && rounded < 1.01 {
			return known
		}
		return int(float64(units)*float64(scale) + 0.01)
	}
	return dots{side(d.width, size.Width), side(d.height, size.Height)}
}

// at returns the units to ask for at a scale to have these dots.
func (d dots) at(scale float32) fyne.Size {
	return fyne.NewSize((float32(d.width)-0.5)/scale, (float32(d.height)-0.5)/scale)
}
