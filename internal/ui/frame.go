package ui

import "fyne.io/fyne/v2"

// Measures of the frame, in units of the toolkit.
const (
	margin      float32 = 16
	gap         float32 = 8
	topHeight   float32 = 60
	stripHeight float32 = 48
	lineHeight  float32 = 24
)

// frame lays out, in this order: top bar, passage strip, grid, status line,
// bench, console. The bench keeps its width within bounds, the console takes
// about a third of the height, the grid gets the rest. A folded bench gives its
// width to the grid; a folded console keeps its head line.
type frame struct{ bench, console bool }

// foldedConsole is the height of the console's head line alone, gap included.
const foldedConsole float32 = 42

// MinSize is the least the panels can be read at.
func (*frame) MinSize([]fyne.CanvasObject) fyne.Size { return leastSize }

// Layout places the panels.
func (f *frame) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	side := margin
	if s.Width < 1400 {
		side = 12
	}
	benchWidth := clamp(s.Width*0.265, 316, 420)
	consoleHeight := clamp(s.Height*0.325, 214, 380)
	left := s.Width - benchWidth - 2*side - 12
	if f.bench {
		left = s.Width - 2*side
	}
	if f.console {
		consoleHeight = foldedConsole
	}
	top := topHeight
	if s.Height < 800 {
		top = 52
	}
	body := s.Height - top - consoleHeight - 2*gap - 4
	y := top + gap
	put(objects[0], 0, 0, s.Width, top)
	put(objects[1], side, y, left, stripHeight)
	put(objects[2], side, y+stripHeight+gap, left, body-stripHeight-gap-lineHeight-4)
	put(objects[3], side, y+body-lineHeight, left, lineHeight)
	if !f.bench {
		put(objects[4], side+left+12, y, benchWidth, body)
	}
	put(objects[5], side, y+body+gap, s.Width-2*side, consoleHeight-gap)
}

func clamp(v, low, high float32) float32 { return min(max(v, low), high) }
