package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// button is a labelled control in the window's own look. It can be plain,
// primary (the one thing to press) or on (a switch that is set).
type button struct {
	widget.BaseWidget
	look  *look
	label string
	hint  string
	// command, when set, gives the hint instead: its title and its key now.
	command *command.Command
	do      func()
	// onHint is told the hint when the pointer enters and "" when it leaves.
	onHint func(string)

	primary, on, off bool // off: disabled
	hovered, focused bool
	compact          bool
	minWidth         float32
	// w, when set, gets the keys that do not press the button.
	w *Window
}

var (
	_ fyne.Widget       = (*button)(nil)
	_ fyne.Tappable     = (*button)(nil)
	_ fyne.Focusable    = (*button)(nil)
	_ fyne.Disableable  = (*button)(nil)
	_ desktop.Hoverable = (*button)(nil)
)

func newButton(l *look, label string, do func()) *button {
	b := &button{look: l, label: label, do: do}
	b.ExtendBaseWidget(b)
	return b
}

// says is the hint: a command's title with its key, or the button's own.
func (b *button) says() string {
	switch {
	case b.command == nil:
		return b.hint
	case b.command.Key() == "":
		return b.command.Title
	}
	return b.command.Title + "  (" + b.command.Key() + ")"
}

// setLabel changes the label and, when needed, the state, in one refresh.
func (b *button) setLabel(label string, on bool) {
	if b.label == label && b.on == on {
		return
	}
	b.label, b.on = label, on
	b.Refresh()
}

// Tapped does what the button is for.
func (b *button) Tapped(*fyne.PointEvent) {
	if !b.off {
		b.do()
	}
}

// Enable, Disable and Disabled make the button follow its command.
func (b *button) Enable() { b.setOff(false) }

// Disable greys the button out.
func (b *button) Disable() { b.setOff(true) }

// Disabled reports whether the button is greyed out.
func (b *button) Disabled() bool { return b.off }

func (b *button) setOff(off bool) {
	if b.off != off {
		b.off = off
		b.Refresh()
	}
}

// FocusGained shows the ring.
func (b *button) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost hides the ring.
func (b *button) FocusLost() { b.focused = false; b.Refresh() }

// TypedRune hands characters other than the blank to the commands.
func (b *button) TypedRune(r rune) {
	if b.w != nil && r != ' ' {
		b.w.stroke(command.Transport, strokeOfRune(r))
	}
}

// TypedShortcut hands keys with Ctrl or Alt to the commands.
func (b *button) TypedShortcut(s fyne.Shortcut) {
	if b.w != nil {
		b.w.stroke(command.Transport, strokeOfShortcut(s))
	}
}

// TypedKey presses the button on Space, Enter or Return.
func (b *button) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		b.Tapped(nil)
	default:
		if k, ok := strokeOfKey(e, modifiers()); ok && b.w != nil {
			b.w.stroke(command.Transport, k)
		}
	}
}

// MouseIn lights the button up and shows its hint.
func (b *button) MouseIn(*desktop.MouseEvent) { b.hover(true) }

// MouseMoved does nothing; desktop.Hoverable asks for it.
func (b *button) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the light and the hint away.
func (b *button) MouseOut() { b.hover(false) }

func (b *button) hover(in bool) {
	b.hovered = in
	if b.onHint != nil {
		if in {
			b.onHint(b.says())
		} else {
			b.onHint("")
		}
	}
	b.Refresh()
}

// CreateRenderer draws the button.
func (b *button) CreateRenderer() fyne.WidgetRenderer {
	r := &buttonRenderer{
		b:     b,
		face:  canvas.NewRectangle(color.Transparent),
		ring:  canvas.NewRectangle(color.Transparent),
		label: text(b.label, sizeText, true, color.Black),
	}
	r.face.CornerRadius, r.ring.CornerRadius = radiusControl, radiusControl+2
	r.label.Alignment = fyne.TextAlignCenter
	r.Refresh()
	return r
}

type buttonRenderer struct {
	b          *button
	face, ring *canvas.Rectangle
	label      *canvas.Text
}

// Layout fills the widget with the face; the ring stands around it.
func (r *buttonRenderer) Layout(s fyne.Size) {
	r.face.Resize(s)
	r.face.Move(fyne.NewPos(0, 0))
	r.ring.Resize(s.Add(fyne.NewSize(4, 4)))
	r.ring.Move(fyne.NewPos(-2, -2))
	h := r.label.MinSize().Height
	r.label.Resize(fyne.NewSize(s.Width, h))
	r.label.Move(fyne.NewPos(0, (s.Height-h)/2))
}

// MinSize leaves three units beside the label.
func (r *buttonRenderer) MinSize() fyne.Size {
	pad, height := 3*unit, 8*unit
	if r.b.compact {
		pad, height = 2*unit, 6*unit
	}
	return fyne.NewSize(max(r.label.MinSize().Width+2*pad, r.b.minWidth), height)
}

// Refresh follows the state and the theme.
func (r *buttonRenderer) Refresh() {
	p, b := r.b.look.colours(), r.b
	r.label.Text = b.label
	r.label.TextSize = sizeText
	if b.compact {
		r.label.TextSize = sizeSmall + 1
	}
	r.face.StrokeWidth, r.face.StrokeColor = 0, color.Transparent
	switch {
	case b.off:
		r.face.FillColor, r.label.Color = fade(p.Raised, 0.5), fade(p.Muted, 0.7)
	case b.primary:
		r.face.FillColor, r.label.Color = p.Accent, p.OnAccent
	case b.on:
		r.face.FillColor, r.label.Color = p.Raised, p.Accent
		r.face.StrokeColor, r.face.StrokeWidth = p.Accent, 1.5
	default:
		r.face.FillColor, r.label.Color = p.Raised, p.Text
	}
	if b.hovered && !b.off && !b.primary {
		r.face.FillColor = mix(p.Raised, p.Text, 0.10)
	}
	r.ring.StrokeWidth, r.ring.StrokeColor = 0, color.Transparent
	if b.focused {
		r.ring.StrokeWidth, r.ring.StrokeColor = 2, p.Accent
		if b.primary {
			r.ring.StrokeColor = p.Text
		}
	}
	r.Layout(b.Size())
	canvas.Refresh(b)
}

// Objects are drawn in this order.
func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ring, r.face, r.label}
}

// Destroy has nothing to free.
func (r *buttonRenderer) Destroy() {}

// mix returns a with a part of b.
func mix(a, b color.Color, part float64) color.NRGBA {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	blend := func(p, q uint8) uint8 { return uint8(float64(p)*(1-part) + float64(q)*part + 0.5) }
	return color.NRGBA{blend(x.R, y.R), blend(x.G, y.G), blend(x.B, y.B), blend(x.A, y.A)}
}
