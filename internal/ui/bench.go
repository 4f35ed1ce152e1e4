package ui

import (
	"fmt"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// benchView is the column beside the grid. It shows one of four pages: the
// bench, with the block of the selected note and what else could stand there,
// the form of the passage, the report of reach, and the MIDI ports.
type benchView struct {
	panel
	root       *fyne.Container
	scroll     *settledScroll
	body       *fyne.Container
	tabs       [4]*button
	foldButton *button

	page     command.Panel // Bench, PassageForm, Reach or MIDI
	note     *benchPage
	passage  *passagePage
	findings *reachPage
	ports    *midiPage
}

var (
	_ fyne.Widget       = (*benchView)(nil)
	_ fyne.Focusable    = (*benchView)(nil)
	_ fyne.Shortcutable = (*benchView)(nil)
	_ fyne.Tappable     = (*benchView)(nil)
)

// page is what the column shows under its tabs.
type page interface {
	// update follows the session.
	update()
	// objects are what the page shows, in the order that Tab visits.
	objects() []fyne.CanvasObject
	// arrange walks down the page from y and returns its end. set places an
	// object, or does nothing when only the height is asked for.
	arrange(y, inner float32, set placing) float32
	// chosen is the row that must be seen, nil for none; first reports that the
	// head of the page is to be seen with it.
	chosen() (row fyne.CanvasObject, first bool)
	retint()
}

// placing moves and sizes an object.
type placing func(o fyne.CanvasObject, x, y, w, h float32)

func newBenchView(w *Window) *benchView {
	b := &benchView{page: command.Bench}
	b.panel.init(w, command.Bench)
	b.tabs = [4]*button{w.top.command("Bench", "focus.bench"), w.top.command("Passage", "passage.treatment"), w.top.command("Reach", "focus.reach"), w.top.command("MIDI", "focus.MIDI page")}
	b.foldButton = w.top.command("▸", "view.bench")
	for _, tab := range append(b.tabs[:], b.foldButton) {
		tab.compact = true
	}
	b.note, b.passage, b.findings, b.ports = newBenchPage(b), newPassagePage(b), newReachPage(b), newMIDIPage(b)
	b.body = container.New(&benchLayout{b})
	b.scroll = newSettledScroll(b.body)
	b.scroll.OnScrolled = func(fyne.Position) { b.cull() }
	b.ExtendBaseWidget(b)
	b.root = container.New(&benchFrame{}, b, b.scroll, b.ring)
	return b
}

// benchFrame lays the scrolled body on the panel.
type benchFrame struct{}

// MinSize is left to the frame.
func (*benchFrame) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(280, 120) }

// Layout fills the panel; the body keeps a margin.
func (*benchFrame) Layout(o []fyne.CanvasObject, s fyne.Size) {
	put(o[0], 0, 0, s.Width, s.Height)
	put(o[1], 4, 6, s.Width-8, s.Height-12)
	put(o[2], 0, 0, s.Width, s.Height)
}

// Tapped takes the keyboard.
func (b *benchView) Tapped(*fyne.PointEvent) { b.w.focusPanel(b.page) }

// CreateRenderer draws nothing: the panel under the body only takes clicks.
func (b *benchView) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(canvas.NewRectangle(color.Transparent))
}

// shown is the page in view.
func (b *benchView) shown() page {
	switch b.page {
	case command.PassageForm:
		return b.passage
	case command.Reach:
		return b.findings
	case command.MIDI:
		return b.ports
	}
	return b.note
}

// showPage turns the column to one of its pages.
func (b *benchView) showPage(p command.Panel) {
	if b.page == p {
		return
	}
	b.page, b.panel.id = p, p
	b.scroll.Offset = fyne.Position{}
	if p == command.Reach && b.w.session.Finding() < 0 {
		b.w.session.StepFinding(1)
	}
	b.update()
}

// update follows the session.
func (b *benchView) update() {
	b.updateTabs()
	p := b.shown()
	p.update()
	b.body.Objects = append([]fyne.CanvasObject{b.tabs[0], b.tabs[1], b.tabs[2], b.tabs[3], b.foldButton}, p.objects()...)
	b.scroll.Refresh() // and its content with it
	if row, first := p.chosen(); row != nil {
		b.revealRow(row, first)
	}
}

// updateTabs marks the page that is shown and counts the findings.
func (b *benchView) updateTabs() {
	label := "Reach"
	if n := len(b.w.session.Reach().Findings); n > 0 {
		label = fmt.Sprintf("Reach %d", n)
	}
	b.tabs[0].setLabel("Bench", b.page == command.Bench)
	b.tabs[1].setLabel("Passage", b.page == command.PassageForm)
	b.tabs[2].setLabel(label, b.page == command.Reach)
	b.tabs[3].setLabel(b.tabs[3].label, b.page == command.MIDI)
}

// revealRow scrolls so that a row can be seen; the first one shows the whole
// head of the page.
func (b *benchView) revealRow(r fyne.CanvasObject, first bool) {
	top, bottom := r.Position().Y, r.Position().Y+r.Size().Height
	view, offset := b.scroll.Size().Height, b.scroll.Offset.Y
	switch {
	case first || bottom <= view:
		offset = 0
	case top < offset:
		offset = top
	case bottom > offset+view:
		offset = bottom - view
	}
	if offset != b.scroll.Offset.Y {
		b.scroll.Offset.Y = offset
		b.scroll.Refresh()
		b.cull()
	}
}

func (b *benchView) retint() {
	b.drawRing()
	b.note.retint()
	b.passage.retint()
	b.findings.retint()
	b.ports.retint()
	b.update()
}

// benchLayout places the tabs and, under them, the page.
type benchLayout struct{ b *benchView }

// measures of the column
const (
	benchPad  float32 = 14
	rowHeight float32 = 44
	tabsRoom  float32 = 32
)

// MinSize is as high as what is shown.
func (l *benchLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(240, l.arrange(max(l.b.scroll.Size().Width, 240), func(fyne.CanvasObject, float32, float32, float32, float32) {}))
}

// Layout places what is shown.
func (l *benchLayout) Layout(_ []fyne.CanvasObject, s fyne.Size) {
	l.arrange(s.Width, put)
	l.b.cull()
}

func (l *benchLayout) arrange(width float32, set placing) float32 {
	b := l.b
	inner, x := width-2*benchPad, benchPad
	fold := b.foldButton.MinSize().Width
	y, apart, less := float32(5), unit, float32(0)
	if over := b.tabsWidth() + fold - inner; over > 0 { // closer together, as far as they stay buttons
		n := float32(len(b.tabs))
		apart, less = unit/2, clamp(float32(math.Ceil(float64((over-n*unit/2)/n))), 6, 10)
	}
	for _, tab := range b.tabs {
		width := tab.MinSize().Width - less
		if x+width+apart > benchPad+inner-fold && x > benchPad { // into another line
			x, y = benchPad, y+26
		}
		set(tab, x, y, width, 22)
		x += width + apart
	}
	set(b.foldButton, benchPad+inner-fold, 5, fold, 22)
	return b.shown().arrange(y-5+tabsRoom, inner, set)
}

func (b *benchView) tabsWidth() float32 {
	width := float32(0)
	for _, tab := range b.tabs {
		width += tab.MinSize().Width + unit
	}
	return width
}

// wrappedHeight is the height a wrapped label needs in a width.
func wrappedHeight(l *widget.Label, width float32) float32 {
	l.Resize(fyne.NewSize(width, l.Size().Height))
	return l.MinSize().Height
}
