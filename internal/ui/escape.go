package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// The toolkit's dialogs do not close on Escape while something in them has the
// keyboard; these fields and buttons do it for them.

// escEntry is an entry that calls escape on Escape.
type escEntry struct {
	widget.Entry
	escape func()
	lit    bool // has the keyboard
}

// FocusGained shows the ring.
func (e *escEntry) FocusGained() { e.lit = true; e.Entry.FocusGained() }

// FocusLost hides the ring.
func (e *escEntry) FocusLost() { e.lit = false; e.Entry.FocusLost() }

// CreateRenderer draws the toolkit's entry with our ring around it.
func (e *escEntry) CreateRenderer() fyne.WidgetRenderer {
	return newRingedEntry(e.Entry.CreateRenderer(), &e.lit)
}

func newEscEntry(text string, escape func()) *escEntry {
	e := &escEntry{escape: escape}
	e.ExtendBaseWidget(e)
	e.SetText(text)
	e.CursorColumn = len([]rune(text))
	return e
}

// choose selects the characters from one place to another, so that what is typed
// takes their place.
func (e *escEntry) choose(from, to int) {
	e.CursorColumn = to
	shift := &fyne.KeyEvent{Name: desktop.KeyShiftLeft}
	e.KeyDown(shift)
	for range to - from {
		e.Entry.TypedKey(&fyne.KeyEvent{Name: fyne.KeyLeft})
	}
	e.KeyUp(shift)
}

// TypedKey closes on Escape.
func (e *escEntry) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		e.escape()
		return
	}
	e.Entry.TypedKey(k)
}

// escButton is a button that calls escape on Escape and does its work on Enter
// as well as on the blank.
type escButton struct {
	widget.Button
	escape func()
	other  func(fyne.KeyName) // what further keys do, if anything
	lit    bool               // has the keyboard
}

func newEscButton(label string, do, escape func()) *escButton {
	b := &escButton{escape: escape}
	b.Text, b.OnTapped = tr(label), do
	b.ExtendBaseWidget(b)
	return b
}

// FocusGained shows the ring.
func (b *escButton) FocusGained() { b.lit = true; b.Button.FocusGained() }

// FocusLost hides the ring.
func (b *escButton) FocusLost() { b.lit = false; b.Button.FocusLost() }

// CreateRenderer draws the toolkit's button with our ring around it.
func (b *escButton) CreateRenderer() fyne.WidgetRenderer {
	return newRinged(b.Button.CreateRenderer(), &b.lit)
}

// ringedRenderer is a control's renderer with the window's ring around it while it
// has the keyboard. The ring stands off, so that it is seen beside a face of its
// own colour.
type ringedRenderer struct {
	fyne.WidgetRenderer
	lit   *bool
	ring  *canvas.Rectangle
	apart float32
}

// ringApart is from a control's edge to the outer edge of its ring, ringWidth is how
// much of that is the ring.
const ringApart, ringWidth float32 = 3, 2

func newRinged(of fyne.WidgetRenderer, lit *bool) *ringedRenderer {
	return newRingedApart(of, lit, ringApart)
}

// newRingedEntry has the ring lie against the frame that an entry has in any case, of
// which the toolkit changes the colour alone: two lines apart would say no more.
func newRingedEntry(of fyne.WidgetRenderer, lit *bool) *ringedRenderer {
	return newRingedApart(of, lit, ringWidth)
}

func newRingedApart(of fyne.WidgetRenderer, lit *bool, apart float32) *ringedRenderer {
	r := &ringedRenderer{of, lit, canvas.NewRectangle(color.Transparent), apart}
	r.ring.CornerRadius = radiusControl + apart
	r.light()
	return r
}

// Layout puts the ring around the control.
func (r *ringedRenderer) Layout(s fyne.Size) {
	put(r.ring, -r.apart, -r.apart, s.Width+2*r.apart, s.Height+2*r.apart)
	r.WidgetRenderer.Layout(s)
}

func (r *ringedRenderer) light() {
	r.ring.StrokeWidth, r.ring.StrokeColor = 0, color.Transparent
	if *r.lit {
		r.ring.StrokeWidth, r.ring.StrokeColor = ringWidth, theme.Color(theme.ColorNamePrimary)
	}
}

// Refresh follows the keyboard and the theme.
func (r *ringedRenderer) Refresh() {
	r.light()
	r.ring.Refresh()
	r.WidgetRenderer.Refresh()
}

// Objects are the ring and the control.
func (r *ringedRenderer) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{r.ring}, r.WidgetRenderer.Objects()...)
}

// TypedKey closes on Escape.
func (b *escButton) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		b.escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		b.OnTapped()
	default:
		b.Button.TypedKey(k)
		if b.other != nil {
			b.other(k.Name)
		}
	}
}

// escCheck is a tick box: Space ticks it, Enter agrees to the form as it does in
// every field, Escape closes.
type escCheck struct {
	widget.Check
	submit, escape func()
	lit            bool // has the keyboard
}

// FocusGained shows the ring.
func (c *escCheck) FocusGained() { c.lit = true; c.Check.FocusGained() }

// FocusLost hides the ring.
func (c *escCheck) FocusLost() { c.lit = false; c.Check.FocusLost() }

// CreateRenderer draws the toolkit's tick box with our ring around it.
func (c *escCheck) CreateRenderer() fyne.WidgetRenderer {
	return newRinged(c.Check.CreateRenderer(), &c.lit)
}

func newEscCheck(label string) *escCheck {
	c := &escCheck{}
	c.Text = tr(label)
	c.ExtendBaseWidget(c)
	return c
}

// TypedKey agrees on Enter and closes on Escape.
func (c *escCheck) TypedKey(k *fyne.KeyEvent) { answerKey(k.Name, c.submit, c.escape) }

// answerKey does what Enter and Escape mean in a form, and reports whether the key
// was one of them.
func answerKey(k fyne.KeyName, submit, escape func()) bool {
	var do func()
	switch k {
	case fyne.KeyReturn, fyne.KeyEnter:
		do = submit
	case fyne.KeyEscape:
		do = escape
	}
	if do != nil {
		do()
	}
	return do != nil
}

// escSelect is a choice: Space and the arrows open it, Enter agrees to the form,
// Escape closes.
type escSelect struct {
	widget.Select
	submit, escape func()
	lit            bool // has the keyboard
}

// FocusGained shows the ring.
func (s *escSelect) FocusGained() { s.lit = true; s.Select.FocusGained() }

// FocusLost hides the ring.
func (s *escSelect) FocusLost() { s.lit = false; s.Select.FocusLost() }

// CreateRenderer draws the toolkit's choice with our ring around it.
func (s *escSelect) CreateRenderer() fyne.WidgetRenderer {
	return newRinged(s.Select.CreateRenderer(), &s.lit)
}

// TypedKey agrees on Enter and closes on Escape.
func (s *escSelect) TypedKey(k *fyne.KeyEvent) {
	switch {
	case answerKey(k.Name, s.submit, s.escape):
	case k.Name == fyne.KeySpace || k.Name == fyne.KeyUp || k.Name == fyne.KeyDown:
		s.openList()
	default:
		s.Select.TypedKey(k)
	}
}

// Tapped opens the list.
func (s *escSelect) Tapped(*fyne.PointEvent) {
	if !s.Disabled() {
		s.openList()
	}
}

// openList shows the choices with the keyboard on the one in force; the
// toolkit's own list would start above the first.
func (s *escSelect) openList() {
	items := make([]*fyne.MenuItem, len(s.Options))
	for i, option := range s.Options {
		items[i] = fyne.NewMenuItem(option, func() { s.SetSelected(option) })
		items[i].Checked = i == s.SelectedIndex()
	}
	driver := fyne.CurrentApp().Driver()
	list := widget.NewPopUpMenu(fyne.NewMenu("", items...), driver.CanvasForObject(s))
	list.ShowAtPosition(driver.AbsolutePositionForObject(s).AddXY(0, s.Size().Height))
	list.Resize(fyne.NewSize(max(s.Size().Width, list.MinSize().Width), list.MinSize().Height))
	for range s.SelectedIndex() + 1 {
		list.ActivateNext()
	}
}

// choice is a choice among values, the current one chosen.
func choice[T comparable](values []T, name func(T) string, now T) *escSelect {
	s := &escSelect{}
	for i, v := range values {
		s.Options = append(s.Options, tr(name(v)))
		if v == now {
			s.Selected = s.Options[i]
		}
	}
	s.ExtendBaseWidget(s)
	return s
}
