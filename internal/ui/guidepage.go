package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// guidePage is what a page of the handbook shows: its sections under each other.
type guidePage struct {
	sections []fyne.CanvasObject // the stretch of text under each heading, and pictures
	body     fyne.CanvasObject
}

// pageColumn lays the sections of a page out under each other. Those that are
// scrolled away are hidden and keep their room.
type pageColumn struct{}

// MinSize is as wide as the widest section and as high as all together.
func (pageColumn) MinSize(sections []fyne.CanvasObject) fyne.Size {
	var s fyne.Size
	for i, o := range sections {
		least := o.MinSize()
		s.Width = max(s.Width, least.Width)
		s.Height += least.Height
		if i > 0 {
			s.Height += theme.Padding()
		}
	}
	return s
}

// Layout gives each section the width and the height that its text takes in it.
func (pageColumn) Layout(sections []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range sections {
		o.Move(fyne.NewPos(0, y))
		o.Resize(fyne.NewSize(size.Width, o.MinSize().Height)) // it breaks its lines
		o.Resize(fyne.NewSize(size.Width, o.MinSize().Height))
		y += o.Size().Height + theme.Padding()
	}
}

// cull leaves the sections that are scrolled away out of the frame.
func (g *guideView) cull() { cull(g.scroll, g.shown.sections) }
