package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// formControl is what the controls of the passage form have in common: they can
// be reached by Tab, show a ring while they have the keyboard, act on Space and
// Enter, leave on Escape, and hand every other key to the commands, so that undo
// and play work while a field has the keyboard.
type formControl struct {
	widget.BaseWidget
	w                *Window
	focused, hovered bool
	act              func()
	// got is told when the control gets the keyboard, to scroll it into view.
	got func()
}

// FocusGained shows the ring.
func (c *formControl) FocusGained() {
	c.focused = true
	if c.got != nil {
		c.got()
	}
	c.Refresh()
}

// FocusLost hides the ring.
func (c *formControl) FocusLost() { c.focused = false; c.Refresh() }

// Tapped acts.
func (c *formControl) Tapped(*fyne.PointEvent) { c.act() }

// TypedRune hands characters other than the blank to the commands.
func (c *formControl) TypedRune(r rune) {
	if r != ' ' {
		c.w.stroke(command.PassageForm, strokeOfRune(r))
	}
}

// TypedShortcut hands keys with Ctrl or Alt to the commands.
func (c *formControl) TypedShortcut(s fyne.Shortcut) {
	c.w.stroke(command.PassageForm, strokeOfShortcut(s))
}

// TypedKey acts on Space, Enter and the arrows, and leaves on Escape.
func (c *formControl) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyDown, fyne.KeyUp:
		c.act()
	case fyne.KeyEscape:
		c.w.focusPanel(command.Grid)
	default:
		if k, ok := strokeOfKey(e, modifiers()); ok {
			c.w.stroke(command.PassageForm, k)
		}
	}
}

// MouseIn lights the control.
func (c *formControl) MouseIn(*desktop.MouseEvent) { c.hovered = true; c.Refresh() }

// MouseMoved does nothing.
func (c *formControl) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light away.
func (c *formControl) MouseOut() { c.hovered = false; c.Refresh() }

// picker shows the chosen one of several values and opens a list of them.
type picker struct {
	formControl
	options []string
	chosen  int // -1 for none of them
	pick    func(i int)
	// other is shown where none is chosen.
	other string
}

var (
	_ fyne.Focusable    = (*picker)(nil)
	_ fyne.Shortcutable = (*picker)(nil)
	_ fyne.Tappable     = (*picker)(nil)
	_ desktop.Hoverable = (*picker)(nil)
)

func newPicker(w *Window, options []string, pick func(i int)) *picker {
	p := &picker{options: options, pick: pick, chosen: -1}
	p.w, p.act = w, p.open
	p.ExtendBaseWidget(p)
	return p
}

// show puts a choice on the picker.
func (p *picker) show(i int) {
	if p.chosen != i {
		p.chosen = i
		p.Refresh()
	}
}

// label is the text of the choice.
func (p *picker) label() string {
	if p.chosen >= 0 && p.chosen < len(p.options) {
		return tr(p.options[p.chosen])
	}
	return tr(p.other)
}

// TypedKey steps to the next or previous choice on Right and Left, so that choices
// are heard one after the other while the passage plays.
func (p *picker) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyRight:
		p.step(1)
	case fyne.KeyLeft:
		p.step(-1)
	default:
		p.formControl.TypedKey(e)
	}
}

func (p *picker) step(by int) {
	if i := max(p.chosen+by, 0); i < len(p.options) && i != p.chosen {
		p.pick(i)
	}
}

// open lists the choices with the keyboard on the one in force.
func (p *picker) open() {
	items := make([]*fyne.MenuItem, len(p.options))
	for i, option := range p.options {
		items[i] = fyne.NewMenuItem(tr(option), func() { p.pick(i) })
		items[i].Checked = i == p.chosen
	}
	canvas := p.w.win.Canvas()
	list := widget.NewPopUpMenu(fyne.NewMenu("", items...), canvas)
	at := p.w.app.Driver().AbsolutePositionForObject(p).AddXY(0, p.Size().Height)
	size := fyne.NewSize(max(p.Size().Width, list.MinSize().Width), min(list.MinSize().Height, canvas.Size().Height))
	if over := at.Y + size.Height - canvas.Size().Height; over > 0 {
		at.Y = max(0, at.Y-over)
	}
	at.X = min(at.X, canvas.Size().Width-size.Width)
	list.ShowAtPosition(at)
	list.Resize(size)
	for range p.chosen + 1 {
		list.ActivateNext()
	}
}

// CreateRenderer draws the picker.
func (p *picker) CreateRenderer() fyne.WidgetRenderer {
	r := &pickerRenderer{p: p, mark: text("▾", sizeText, false, color.Black), words: text("", sizeText, false, color.Black),
		face: canvas.NewRectangle(color.Transparent), ring: canvas.NewRectangle(color.Transparent)}
	r.face.CornerRadius, r.ring.CornerRadius = radiusControl, radiusControl+2
	r.Refresh()
	return r
}

// pickerRenderer draws a face with a ring, the choice, and a mark beside it.
type pickerRenderer struct {
	p           *picker
	face, ring  *canvas.Rectangle
	words, mark *canvas.Text
}

// Layout puts the choice left and the mark right.
func (r *pickerRenderer) Layout(s fyne.Size) {
	put(r.face, 0, 0, s.Width, s.Height)
	put(r.ring, -2, -2, s.Width+4, s.Height+4)
	h := r.mark.MinSize().Height
	setText(r.words, fitText(r.p.label(), r.words, s.Width-pickerMark-22))
	move(r.mark, s.Width-pickerMark-8, (s.Height-h)/2)
	move(r.words, 10, (s.Height-h)/2)
}

// MinSize holds the choice and the mark.
func (r *pickerRenderer) MinSize() fyne.Size {
	whole := canvas.NewText(r.p.label(), color.Black)
	whole.TextSize = r.words.TextSize
	return fyne.NewSize(whole.MinSize().Width+pickerMark+28, controlHeight)
}

// controlHeight is the height of a control in a form, pickerMark the width of
// a picker's mark.
const controlHeight, pickerMark float32 = 30, 14

// Refresh follows state and theme.
func (r *pickerRenderer) Refresh() {
	p, c := r.p.w.look.colours(), &r.p.formControl
	r.face.FillColor, r.face.StrokeColor, r.face.StrokeWidth = p.Ground, mix(p.Raised, p.Muted, 0.8), 1
	if c.hovered {
		r.face.FillColor = mix(p.Panel, p.Text, 0.08)
	}
	r.words.Color, r.mark.Color = p.Text, p.Text
	showRing(r.ring, c.focused, p)
	r.Layout(r.p.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

// Objects are drawn in this order.
func (r *pickerRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ring, r.face, r.words, r.mark}
}

// Destroy has nothing to free.
func (r *pickerRenderer) Destroy() {}

// showRing draws the ring of a control that has the keyboard.
func showRing(ring *canvas.Rectangle, on bool, p *paint.Theme) {
	ring.StrokeWidth, ring.StrokeColor = 0, color.Transparent
	if on {
		ring.StrokeWidth, ring.StrokeColor = 2, p.Accent
	}
}
