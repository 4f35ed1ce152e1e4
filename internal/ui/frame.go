package ui

import "fyne.io/fyne/v2"

// Measures of the frame, in units of the toolkit.
const (
	margin      float32 = 16
	gap         float32 = 8
	topHeight   float32 = 60
	stripHeight float32 = 44
	lineHeight  float32 = 24
)

// frame lays out, in this order: top bar, passage strip, grid, status line,
// bench, console. The bench keeps its width within bounds, the console takes
// about a third of the height, the grid gets the rest.
type frame struct{}

// MinSize is the least the panels can be read at.
func (*frame) MinSize([]fyne.CanvasObject) fyne.Size { return leastSize }

// Layout places the panels.
func (*frame) Layout(objects []fyne.CanvasObject, s fyne.Size) {
	side := margin
	if s.Width < 1400 {
		side = 12
	}
	benchWidth := clamp(s.Width*0.265, 316, 420)
	consoleHeight := clamp(s.Height*0.325, 214, 380)
	top := topHeight
	if s.Height < 800 {
		top = 52
	}
	left := s.Width - benchWidth - 2*side - 12
	body := s.Height - top - consoleHeight - 2*gap - 4
	place := func(i int, x, y, width, height float32) {
		objects[i].Move(fyne.NewPos(x, y))
		objects[i].Resize(fyne.NewSize(width, height))
	}
	place(0, 0, 0, s.Width, top)
	y := top + gap
	place(1, side, y, left, stripHeight)
	place(2, side, y+stripHeight+gap, left, body-stripHeight-gap-lineHeight-4)
	place(3, side, y+body-lineHeight, left, lineHeight)
	place(4, side+left+12, y, benchWidth, body)
	place(5, side, y+body+gap, s.Width-2*side, consoleHeight-gap)
}

func clamp(v, low, high float32) float32 { return min(max(v, low), high) }
