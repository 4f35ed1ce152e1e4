package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// The toolkit's dialogs do not close on Escape while something in them has the
// keyboard; these fields and buttons do it for them.

// escEntry is an entry that calls escape on Escape.
type escEntry struct {
	widget.Entry
	escape func()
}

func newEscEntry(text string, escape func()) *escEntry {
	e := &escEntry{escape: escape}
	e.ExtendBaseWidget(e)
	e.SetText(text)
	e.CursorColumn = len([]rune(text))
	return e
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
	ring := canvas.NewRectangle(color.Transparent)
	ring.CornerRadius = radiusControl + 2
	return &ringedRenderer{b.Button.CreateRenderer(), b, ring}
}

// ringedRenderer is a button's renderer with a ring while it has the keyboard.
type ringedRenderer struct {
	fyne.WidgetRenderer
	b    *escButton
	ring *canvas.Rectangle
}

// Layout puts the ring around the button.
func (r *ringedRenderer) Layout(s fyne.Size) {
	put(r.ring, -2, -2, s.Width+4, s.Height+4)
	r.WidgetRenderer.Layout(s)
}

// Refresh follows the keyboard and the theme.
func (r *ringedRenderer) Refresh() {
	r.ring.StrokeWidth, r.ring.StrokeColor = 0, color.Transparent
	if r.b.lit {
		r.ring.StrokeWidth, r.ring.StrokeColor = 2, theme.Color(theme.ColorNameForeground)
	}
	r.ring.Refresh()
	r.WidgetRenderer.Refresh()
}

// Objects are the ring and the button.
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
