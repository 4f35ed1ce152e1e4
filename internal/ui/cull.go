package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// cull hides what a scroll does not show of a list and shows what it does. The
// toolkit draws every visible object in each frame, also those that the edge
// of the scroll then cuts off.
func cull(s *container.Scroll, list []fyne.CanvasObject) {
	top, bottom := s.Offset.Y, s.Offset.Y+s.Size().Height
	for _, o := range list {
		y := o.Position().Y
		in := y < bottom && y+o.Size().Height > top
		switch {
		case in && !o.Visible():
			o.Show()
		case !in && o.Visible():
			o.Hide()
		}
	}
}

// cull leaves out of the frame the rows and texts that are scrolled away; what
// can have the keyboard stays, so that Tab finds it.
func (b *benchView) cull() {
	var rows []fyne.CanvasObject
	for _, o := range b.body.Objects {
		switch o.(type) {
		case *alternativeRow, *findingRow, *widget.Label, *canvas.Text:
			rows = append(rows, o)
		}
	}
	cull(&b.scroll.Scroll, rows)
}
