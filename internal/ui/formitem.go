package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
	"math"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// formItem is a line of the passage form.
type formItem interface {
	update(p project.Passage)
	objects() []fyne.CanvasObject
	arrange(y, inner float32, set placing) float32
	retint(w *Window)
}

// formField is a control with its name over it, or beside it, and a sentence
// under it that says what it does.
type formField struct {
	name    *canvas.Text // nil where the control says it
	control fyne.CanvasObject
	hint    *widget.Label // nil for none
	beside  bool
	show    func(p project.Passage)
}

// newField makes a field; an empty name or hint is left out.
func newField(w *Window, name, hint string, control fyne.CanvasObject, show func(p project.Passage)) *formField {
	f := &formField{control: control, show: show}
	if name != "" {
		f.name = text(name, sizeSmall+1, true, w.look.colours().Muted)
	}
	if hint != "" {
		f.hint = newHint(hint)
	}
	return f
}

func newHint(s string) *widget.Label {
	l := widget.NewLabel(tr(s))
	l.Wrapping, l.SizeName, l.Importance = fyne.TextWrapWord, captionSize, widget.LowImportance
	return l
}

func (f *formField) update(p project.Passage) { f.show(p) }

func (f *formField) objects() []fyne.CanvasObject {
	var o []fyne.CanvasObject
	if f.name != nil {
		o = append(o, f.name)
	}
	o = append(o, f.control)
	if f.hint != nil {
		o = append(o, f.hint)
	}
	return o
}

// besideWidth is the part of the width that a name beside its control takes.
const besideWidth = 0.44

func (f *formField) arrange(y, inner float32, set placing) float32 {
	x, h := benchPad, f.control.MinSize().Height
	switch {
	case f.name != nil && f.beside:
		left := float32(int(inner * besideWidth))
		set(f.name, x, y+(h-16)/2, left, 16)
		x += left
	case f.name != nil:
		set(f.name, x, y, inner, 16)
		y += 19
	}
	set(f.control, x, y, benchPad+inner-x, h)
	y += h + 4
	if f.hint == nil {
		return y
	}
	return arrangeHint(f.hint, y-8, inner, set)
}

// arrangeHint places a sentence; the toolkit keeps a margin around it.
func arrangeHint(l *widget.Label, y, inner float32, set placing) float32 {
	h := wrappedHeight(l, inner+16)
	set(l, benchPad-8, y, inner+16, h)
	return y + h
}

func (f *formField) retint(w *Window) {
	if f.name != nil {
		f.name.Color = w.look.colours().Muted
	}
	f.control.Refresh()
}

// formButtons are buttons side by side, in as many lines as they need. Those of
// a command that does not apply now are greyed out.
type formButtons struct {
	w    *Window
	list []*button
	// label, when set, gives the buttons' words anew.
	label func(i int) string
	hint  *widget.Label
}

func newButtons(w *Window, hint string, list ...*button) *formButtons {
	f := &formButtons{w: w, list: list}
	for _, b := range list {
		b.compact = true
	}
	if hint != "" {
		f.hint = newHint(hint)
	}
	return f
}

func (f *formButtons) update(project.Passage) {
	for i, b := range f.list {
		if f.label != nil {
			b.setLabel(f.label(i), false)
		}
		if b.command != nil {
			b.setOff(!b.command.Enabled(f.w.session))
		}
	}
}

func (f *formButtons) objects() []fyne.CanvasObject {
	var o []fyne.CanvasObject
	for _, b := range f.list {
		o = append(o, b)
	}
	if f.hint != nil {
		o = append(o, f.hint)
	}
	return o
}

func (f *formButtons) arrange(y, inner float32, set placing) float32 {
	y = flow(f.list, y, inner, set) + 6
	if f.hint != nil {
		y = arrangeHint(f.hint, y-8, inner, set)
	}
	return y
}

// flow places buttons side by side in as many lines as they need.
func flow(list []*button, y, inner float32, set placing) float32 {
	x := benchPad
	apart, less := tightened(list, inner)
	for _, b := range list {
		m := b.MinSize()
		m.Width -= less
		if x > benchPad && x+m.Width > benchPad+inner {
			x, y = benchPad, y+m.Height+unit
		}
		set(b, x, y, m.Width, m.Height)
		x += m.Width + apart
	}
	return y + 6*unit
}

// tightened is how far buttons stand apart, and how much narrower each becomes
// where that keeps all of them in one line: a line more would hold the last one
// alone.
func tightened(list []*button, inner float32) (apart, less float32) {
	const most float32 = 6
	width, n := -unit, float32(len(list))
	for _, b := range list {
		width += b.MinSize().Width + unit
	}
	over := width - (n-1)*unit/2 - inner
	if width <= inner || over > n*most {
		return unit, 0
	}
	return unit / 2, max(0, float32(math.Ceil(float64(over/n))))
}

func (f *formButtons) retint(*Window) {
	for _, b := range f.list {
		b.Refresh()
	}
}

// formEntry is a line of text that takes effect on Enter and when the keyboard
// leaves it; Escape takes back what was typed.
type formEntry struct {
	widget.Entry
	w      *Window
	now    string
	commit func(string) error
	got    func()
	lit    bool // has the keyboard
}

// CreateRenderer draws the toolkit's entry with our ring around it.
func (e *formEntry) CreateRenderer() fyne.WidgetRenderer {
	return newRingedEntry(e.Entry.CreateRenderer(), &e.lit)
}

func newFormEntry(w *Window, commit func(string) error) *formEntry {
	e := &formEntry{w: w, commit: commit}
	e.ExtendBaseWidget(e)
	e.OnSubmitted = func(string) { e.done() }
	return e
}

func (e *formEntry) show(s string) {
	e.now = s
	if e.Text != s {
		e.SetText(s)
	}
}

func (e *formEntry) done() {
	if e.Text != e.now {
		e.w.grid.say(e.commit(e.Text))
	}
}

// FocusGained shows the ring and scrolls the entry into view.
func (e *formEntry) FocusGained() {
	e.lit = true
	e.Entry.FocusGained()
	if e.got != nil {
		e.got()
	}
}

// FocusLost hides the ring and keeps what was typed.
func (e *formEntry) FocusLost() {
	e.lit = false
	e.Entry.FocusLost()
	e.done()
}

// TypedShortcut edits the text, or runs the command of a key with Ctrl or Alt
// that means nothing in a line of text: saving and going to another panel work
// from here as from everywhere.
func (e *formEntry) TypedShortcut(s fyne.Shortcut) {
	if k, ok := s.(*desktop.CustomShortcut); ok && !editsText[k.KeyName] {
		e.w.stroke(command.PassageForm, strokeOfShortcut(s))
		return
	}
	e.Entry.TypedShortcut(s)
}

// editsText are the keys that move through a line of text with Ctrl or Alt.
var editsText = map[fyne.KeyName]bool{
	fyne.KeyLeft: true, fyne.KeyRight: true, fyne.KeyHome: true, fyne.KeyEnd: true, fyne.KeyBackspace: true, fyne.KeyDelete: true,
}

// TypedKey leaves on Escape, turns the form's pages, and runs the command of a
// function key.
func (e *formEntry) TypedKey(k *fyne.KeyEvent) {
	switch {
	case k.Name == fyne.KeyEscape:
		e.SetText(e.now)
		e.w.focusPanel(command.Grid)
	case k.Name == fyne.KeyPageDown, k.Name == fyne.KeyPageUp, isFunctionKey(k.Name):
		if s, ok := strokeOfKey(k, modifiers()); ok {
			e.w.stroke(command.PassageForm, s)
		}
	default:
		e.Entry.TypedKey(k)
	}
}
