package ui

import (
	"fyne.io/fyne/v2"
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
}

func newEscButton(label string, do, escape func()) *escButton {
	b := &escButton{escape: escape}
	b.Text, b.OnTapped = label, do
	b.ExtendBaseWidget(b)
	return b
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

// escSelect is a choice that calls escape on Escape.
type escSelect struct {
	widget.Select
	escape func()
}

// TypedKey closes on Escape.
func (s *escSelect) TypedKey(k *fyne.KeyEvent) {
	switch {
	case k.Name == fyne.KeyEscape && s.escape != nil:
		s.escape()
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
		s.Options = append(s.Options, name(v))
		if v == now {
			s.Selected = s.Options[i]
		}
	}
	s.ExtendBaseWidget(s)
	return s
}
