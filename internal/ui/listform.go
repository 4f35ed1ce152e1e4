package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// listForm is a dialog of rows of text with buttons, with buttons of its own at
// the foot. It closes on Escape and says what the last action answered.
type listForm struct {
	w      *Window
	d      *dialog.CustomDialog
	box    *fyne.Container
	said   *widget.Label
	closer *escButton
	rows   [][]*escButton
	build  func(*listForm)
	scroll *container.Scroll
	full   fyne.Size // of the rows where there are any
	when   map[*escButton]func() bool
}

// listFormWidth and listFormHeight are the size of the list where the window has
// room for it; listNoteHeight is that of a sentence in place of rows.
const listFormWidth, listFormHeight, listNoteHeight float32 = 720, 300, 64

// showList opens a dialog; build makes its rows, at first and again after
// something changed.
func (w *Window) showList(title string, build func(*listForm), foot func(*listForm) []*escButton) *listForm {
	f := &listForm{w: w, box: container.NewVBox(), said: widget.NewLabel(""), build: build, when: map[*escButton]func() bool{}}
	f.said.Truncation = fyne.TextTruncateEllipsis
	f.scroll = container.NewVScroll(f.box)
	room := w.win.Canvas().Size()
	f.full = fyne.NewSize(clamp(room.Width-80, 320, listFormWidth), clamp(room.Height-180, 120, listFormHeight))
	f.closer = f.button("Close", f.close)
	f.d = dialog.NewCustomWithoutButtons(tr(title), container.NewBorder(nil, f.said, nil, nil, f.scroll), w.win)
	var buttons []fyne.CanvasObject
	for _, b := range foot(f) {
		buttons = append(buttons, b)
	}
	f.d.SetButtons(append(buttons, f.closer))
	w.list = f
	f.again()
	f.d.Show()
	w.giveDialog(f.first())
	return f
}

// first is what has the keyboard when the dialog opens: the first button of the
// rows that can be pressed, or the one that closes.
func (f *listForm) first() *escButton {
	for _, row := range f.rows {
		for _, b := range row {
			if !b.Disabled() {
				return b
			}
		}
	}
	return f.closer
}

// button is one that closes the dialog on Escape. It takes the keyboard when it
// is clicked, so that Escape works then, too.
func (f *listForm) button(label string, do func()) *escButton {
	b := newEscButton(label, nil, f.close)
	b.OnTapped = func() {
		f.w.win.Canvas().Focus(b)
		do()
	}
	return b
}

// able has a button of the foot pressed only while something can be done with it.
func (f *listForm) able(b *escButton, when func() bool) *escButton {
	f.when[b] = when
	return b
}

// enable follows what can be done now; the keyboard never stays with a button that
// cannot be pressed.
func (f *listForm) enable() {
	for b, when := range f.when {
		switch able := when(); {
		case able && b.Disabled():
			b.Enable()
		case !able && !b.Disabled():
			if f.w.win.Canvas().Focused() == fyne.Focusable(b) {
				f.w.win.Canvas().Focus(f.closer)
			}
			b.Disable()
		}
	}
}

// comparing are the buttons for two arrangements that play in turn.
func (f *listForm) comparing() []*escButton {
	s := f.w.session
	return []*escButton{
		f.able(f.button("Change over", func() { f.w.grid.say(s.ChangeOver()) }), s.IsComparing),
		f.able(f.button("Stop", s.Stop), func() bool { return s.IsComparing() || s.Playing() }),
	}
}

// then is a button that does something and shows the rows anew.
func (f *listForm) then(label string, do func() error) *escButton {
	return f.button(label, func() {
		f.w.grid.say(do())
		f.again()
	})
}

// row adds a row: a name, words under it, and buttons beside both.
func (f *listForm) row(name, words string, buttons ...*escButton) {
	side := container.NewHBox()
	for _, b := range buttons {
		side.Add(b)
	}
	edge := canvas.NewRectangle(color.Transparent)
	edge.SetMinSize(fyne.NewSize(8, 1)) // keeps the scroll bar off the buttons
	side.Add(edge)
	f.rows = append(f.rows, buttons)
	title := widget.NewLabelWithStyle(tr(name), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	title.Wrapping = fyne.TextWrapWord
	lines := container.NewVBox(title)
	if words != "" {
		below := newHint(words)
		lines = container.New(&tightLayout{}, title, below)
	}
	f.box.Add(container.NewBorder(nil, nil, nil, container.NewCenter(side), lines))
}

// tightLayout puts a label right under another one.
type tightLayout struct{}

// MinSize is both without the margin between them.
func (tightLayout) MinSize(o []fyne.CanvasObject) fyne.Size {
	a, b := o[0].MinSize(), o[1].MinSize()
	return fyne.NewSize(max(a.Width, b.Width), a.Height+b.Height-14)
}

// Layout stacks them.
func (tightLayout) Layout(o []fyne.CanvasObject, s fyne.Size) {
	o[0].Resize(fyne.NewSize(s.Width, o[0].MinSize().Height))
	h := o[0].MinSize().Height
	put(o[0], 0, 0, s.Width, h)
	put(o[1], 0, h-14, s.Width, s.Height-h+14)
}

// note adds a row of words alone.
func (f *listForm) note(words string) {
	l := widget.NewLabel(tr(words))
	l.Wrapping = fyne.TextWrapWord
	f.box.Add(l)
}

// again makes the rows anew; the keyboard stays at its place in them.
func (f *listForm) again() {
	row, at := f.keyboard()
	f.box.Objects, f.rows = nil, nil
	f.build(f)
	size := f.full
	if len(f.rows) == 0 {
		size.Height = min(listNoteHeight, size.Height)
	}
	if size != f.scroll.MinSize() {
		f.scroll.SetMinSize(size)
		f.d.Resize(f.d.MinSize())
	}
	f.box.Refresh()
	f.enable()
	if row < 0 {
		return
	}
	var next fyne.Focusable = f.closer
	if row = min(row, len(f.rows)-1); row >= 0 && at < len(f.rows[row]) && !f.rows[row][at].Disabled() {
		next = f.rows[row][at]
	}
	f.w.win.Canvas().Focus(next)
}

// keyboard tells which button of the rows has the keyboard; row is -1 for none.
func (f *listForm) keyboard() (row, at int) {
	now := f.w.win.Canvas().Focused()
	for i, buttons := range f.rows {
		for k, b := range buttons {
			if now == fyne.Focusable(b) {
				return i, k
			}
		}
	}
	return -1, 0
}

// say shows what an action answered.
func (f *listForm) say(text string) { f.said.SetText(tr(text)) }

// close ends the dialog, and the sound of a comparison with it.
func (f *listForm) close() {
	if f.w.session.IsComparing() {
		f.w.session.Stop()
	}
	f.w.list = nil
	f.d.Hide()
	f.w.regain()
}
