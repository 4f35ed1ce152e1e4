package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

// settledScroll scrolls downwards and is laid out once for each change. When what
// a scroll holds has become higher or lower, the toolkit lays the scroll out
// again in the middle of the next frame, although Refresh has done so, and
// moving what it holds marks the window for one more frame. Here that layout
// finds everything in its place and leaves it alone, so that an edit which
// changes the bench's height is drawn in one frame and not in two.
type settledScroll struct {
	container.Scroll
}

func newSettledScroll(content fyne.CanvasObject) *settledScroll {
	s := &settledScroll{}
	s.Content, s.Direction = content, container.ScrollVerticalOnly
	s.ExtendBaseWidget(s)
	return s
}

// CreateRenderer is the toolkit's renderer, which is asked only for what is not
// done yet.
func (s *settledScroll) CreateRenderer() fyne.WidgetRenderer {
	return &settledRenderer{WidgetRenderer: s.Scroll.CreateRenderer(), scroll: &s.Scroll}
}

type settledRenderer struct {
	fyne.WidgetRenderer
	scroll *container.Scroll
	laid   layoutOfScroll
}

// layoutOfScroll is all that the toolkit's layout of a scroll depends on and
// what it makes of it. It differs from any other before the first layout, since
// a scroll that is laid out holds something.
type layoutOfScroll struct {
	content             fyne.CanvasObject
	size, scrolled      fyne.Size
	least, given        fyne.Size // of the content
	offset, contentsPos fyne.Position
}

func (r *settledRenderer) layout(size fyne.Size) layoutOfScroll {
	c := r.scroll.Content
	return layoutOfScroll{c, size, r.scroll.Size(), c.MinSize(), c.Size(), r.scroll.Offset, c.Position()}
}

// Layout lays the scroll out unless it is.
func (r *settledRenderer) Layout(size fyne.Size) {
	if r.layout(size) == r.laid {
		return
	}
	r.WidgetRenderer.Layout(size)
	r.laid = r.layout(size)
}

// Refresh brings content, bars and shadows up to date, which lays the scroll out.
func (r *settledRenderer) Refresh() {
	r.WidgetRenderer.Refresh()
	r.laid = r.layout(r.scroll.Size())
}
