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
//
// A very small window is a state of its own: so that one whole system with its
// lanes can be seen, the console folds by itself, then the passages keep only their
// names, then the console's head line goes; and the bench waits until it is
// asked for. All of it comes back as the window grows, for what the user folded
// is kept apart from this.
type frame struct {
	bench, console bool
	// guide says that the handbook is open, at the right of everything else; in
	// a narrow window it takes the place of the bench.
	guide bool
	// asked says that the bench is wanted in a narrow window, too.
	asked bool
	small smallness
	// onSmall is told when what a small window leaves out changes.
	onSmall func()
	trace   *trace
}

// smallness is what a small window leaves out.
type smallness struct {
	low    bool // the console, but for its head line
	lower  bool // of the passages all but their names
	least  bool // the console's head line, too
	narrow bool // the bench, unless it is asked for
}

// foldedConsole is the height of the console's head line alone, gap included;
// namesHeight is that of the passages' names.
const foldedConsole, namesHeight float32 = 42, 28

// leastGrid is the height that a system of ordinary range needs with low rows, and
// ordinaryGrid with ordinary ones; leastBeside is the least width of a grid beside
// the bench that nobody asked for.
const leastGrid, ordinaryGrid, leastBeside float32 = 236, 270, 440

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
	guide := float32(0)
	if f.guide {
		guide = clamp(s.Width*0.25, 300, 400)
	}
	left := s.Width - guide - 2*side
	small := smallness{narrow: left-benchWidth-12 < leastBeside}
	bench := !f.bench && !f.covers(s.Width) && (!small.narrow || f.asked)
	if objects[4].Visible() != bench {
		setVisible(bench, objects[4])
	}
	if bench {
		left -= benchWidth + 12
	}
	line := lineHeight
	if left < leastLine || guide > 0 && left < leastLineBesideGuide {
		line = 2*lineHeight + 2 // the buttons and under them the message
	}
	strip, consoleHeight := stripHeight, clamp(s.Height*0.325, 186, 380)
	grid := func() float32 { return s.Height - top - consoleHeight - 2*gap - 4 - strip - gap - line - 4 }
	small.low = grid() < leastGrid
	if f.console || small.low {
		consoleHeight = foldedConsole
	}
	if small.lower = grid() < leastGrid; small.lower {
		strip = namesHeight
	}
	if small.least = grid() < leastGrid; small.least {
		consoleHeight = 0
	}
	setVisible(!small.least, objects[5], objects[6])
	if f.small != small {
		if !small.narrow {
			f.asked = false
		}
		f.small = small
		f.onSmall()
	}
	body := s.Height - top - consoleHeight - 2*gap - 4
	y := top + gap
	put(objects[8], s.Width-guide, y, guide, body)
	put(objects[0], 0, 0, s.Width, top)
	put(objects[1], side, y, left, strip)
	put(objects[2], side, y+strip+gap, left, body-strip-gap-line-4)
	put(objects[3], side, y+body-line, left, line)
	put(objects[7], side+left+6, y, 0, 0)
	if bench {
		put(objects[4], side+left+12, y, benchWidth, body)
		put(objects[7], side+left+6, y, 1, body)
	}
	put(objects[5], side, y+body+gap, s.Width-2*side, max(consoleHeight-gap, 0))
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

func clamp(v, low, high float32) float32 { return min(max(v, low), high) }
