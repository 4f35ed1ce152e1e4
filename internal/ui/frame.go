package ui

import "fyne.io/fyne/v2"

// Measures of the frame, in units of the toolkit.
const (
	margin      float32 = 16
	gap         float32 = 8
	topHeight   float32 = 60
	stripHeight float32 = 60
	lineHeight  float32 = 24
)

// frame lays out, in this order: top bar, passage strip, grid, status line,
// bench, console, the line over the console and the one left of the bench. The
// bench keeps its width within bounds, the console takes
// about a third of the height, the grid gets the rest. A folded bench gives its
// width to the grid; a folded console keeps its head line.
type frame struct {
	bench, console bool
	// guide says that the handbook is open, at the right of everything else; in
	// a narrow window it takes the place of the bench.
	guide bool
	// low says that the window has no room for more of the console than its
	// head line; onLow is told when that changes.
	low   bool
	onLow func()
	trace *trace
}

// foldedConsole is the height of the console's head line alone, gap included.
const foldedConsole float32 = 42

// MinSize is the least the panels can be read at.
func (f *frame) MinSize([]fyne.CanvasObject) fyne.Size {
	f.trace.frameBegins()
	return leastSize
}

// Layout places the panels.
func (f *frame) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	side := margin
	if s.Width < 1400 {
		side = 12
	}
	top := topHeight
	if s.Height < 800 {
		top = 52
	}
	benchWidth := clamp(s.Width*0.265, 300, 420)
	if s.Width >= 900 {
		benchWidth = max(benchWidth, 316)
	}
	consoleHeight := clamp(s.Height*0.325, 186, 380)
	f.setLow(s.Height-top-consoleHeight-2*gap-4 < leastBody)
	guide := float32(0)
	if f.guide {
		guide = clamp(s.Width*0.25, 300, 400)
	}
	bench := !f.bench && !f.covers(s.Width)
	if objects[4].Visible() != bench {
		setVisible(bench, objects[4])
	}
	left := s.Width - guide - 2*side
	if bench {
		left -= benchWidth + 12
	}
	if f.console || f.low {
		consoleHeight = foldedConsole
	}
	line := lineHeight
	if left < leastLine || guide > 0 && left < leastLineBesideGuide {
		line = 2*lineHeight + 2 // the buttons and under them the message
	}
	body := s.Height - top - consoleHeight - 2*gap - 4
	y := top + gap
	put(objects[8], s.Width-guide, y, guide, body)
	put(objects[0], 0, 0, s.Width, top)
	put(objects[1], side, y, left, stripHeight)
	put(objects[2], side, y+stripHeight+gap, left, body-stripHeight-gap-line-4)
	put(objects[3], side, y+body-line, left, line)
	put(objects[7], side+left+6, y, 0, 0)
	if bench {
		put(objects[4], side+left+12, y, benchWidth, body)
		put(objects[7], side+left+6, y, 1, body)
	}
	put(objects[5], side, y+body+gap, s.Width-2*side, consoleHeight-gap)
	put(objects[6], side, y+body+gap-1, s.Width-2*side, 1)
}

// covers reports whether the handbook stands where the bench would.
func (f *frame) covers(width float32) bool { return f.guide && width < leastForThree }

// leastForThree is the width that grid, bench and handbook need beside each other.
const leastForThree float32 = 1200

// leastLine is the width under which buttons and message do not stand in one
// line.
const leastLine float32 = 700

// leastLineBesideGuide is that width beside the handbook, where many windows leave
// too little for a sentence.
const leastLineBesideGuide float32 = 800

// leastBody is the least height for strip, grid and status line together.
const leastBody float32 = 220

func (f *frame) setLow(low bool) {
	if f.low != low {
		f.low = low
		f.onLow()
	}
}

func clamp(v, low, high float32) float32 { return min(max(v, low), high) }
