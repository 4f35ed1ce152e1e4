package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
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

	// second is what a right click does, nil for nothing; aside says so behind
	// the hint.
	second func()
	aside  string

	primary, on, off bool // off: disabled
	// struck crosses the label out: what it names is not heard. The label keeps its
	// width, so that its neighbours stay.
	struck           bool
	hovered, focused bool
	compact          bool
	minWidth         float32
	// w, when set, gets the keys that do not press the button.
	w *Window
}

var (
	_ fyne.Widget            = (*button)(nil)
	_ fyne.Tappable          = (*button)(nil)
	_ fyne.SecondaryTappable = (*button)(nil)
	_ fyne.Focusable         = (*button)(nil)
	_ fyne.Disableable       = (*button)(nil)
	_ desktop.Hoverable      = (*button)(nil)
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
		return tr(b.hint)
	case b.command.Key() == "":
		return tr(b.command.Title) + tr(b.aside)
	}
	return tr(b.command.Title) + "  (" + keyAsWritten(b.command.Key()) + ")" + tr(b.aside)
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

// TappedSecondary does what a right click is for.
func (b *button) TappedSecondary(*fyne.PointEvent) {
	if !b.off && b.second != nil {
		b.second()
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

// ringRoom is how far the focus ring stands out of the button.
const ringRoom float32 = 2

// CreateRenderer draws the button: face, ring and label are one picture, since
// where the screen is drawn by software each object of a frame costs time.
func (b *button) CreateRenderer() fyne.WidgetRenderer {
	r := &buttonRenderer{b: b}
	r.picture = newPainted(r.paint)
	return r
}

type buttonRenderer struct {
	b       *button
	picture *picture
}

// Layout lets the picture stand out of the widget by the ring.
func (r *buttonRenderer) Layout(s fyne.Size) {
	r.picture.place(-ringRoom, -ringRoom, s.Width+2*ringRoom, s.Height+2*ringRoom)
}

func (b *button) textSize() float32 {
	if b.compact {
		return sizeSmall + 1
	}
	return sizeText
}

// MinSize leaves three units beside the label.
func (r *buttonRenderer) MinSize() fyne.Size {
	pad, height := 3*unit, 8*unit
	if r.b.compact {
		pad, height = 2*unit, 6*unit
	}
	width := math.Ceil(paint.LabelWidth(tr(r.b.label), paint.SemiBold, float64(r.b.textSize())))
	return fyne.NewSize(max(float32(width)+2*pad, r.b.minWidth), height)
}

// Refresh follows the state and the theme.
func (r *buttonRenderer) Refresh() { r.picture.invalidate() }

// buttonInk are the colours of a button in its state; none is transparent.
type buttonInk struct{ face, frame, label, ring color.NRGBA }

func (b *button) ink() buttonInk {
	p := b.look.colours()
	ink := buttonInk{face: p.Raised, label: p.Text}
	switch {
	case b.off:
		ink.face, ink.label = fade(p.Raised, 0.5), fade(p.Muted, 0.7)
	case b.primary:
		ink.face, ink.label = p.Accent, p.OnAccent
	case b.on:
		ink.label, ink.frame = p.Accent, p.Accent
	case b.struck:
		ink.label = p.Muted
	}
	if b.hovered && !b.off && !b.primary {
		ink.face = mix(p.Raised, p.Text, 0.05)
	}
	if b.focused {
		ink.ring = p.Accent
		if b.primary {
			ink.ring = p.Text
		}
	}
	return ink
}

// paint draws the button in its state.
func (r *buttonRenderer) paint(c *paint.Canvas) {
	b, ink := r.b, r.b.ink()
	c.Wipe()
	face := paint.Rect{X: float64(ringRoom), Y: float64(ringRoom), W: float64(b.Size().Width), H: float64(b.Size().Height)}
	c.RoundRect(face, float64(radiusControl), ink.face)
	c.StrokeRound(face, float64(radiusControl), 1.5, ink.frame)
	c.Label(face, tr(b.label), paint.Style{Font: paint.SemiBold, Size: float64(b.textSize()), Color: ink.label})
	if b.struck {
		width := paint.LabelWidth(tr(b.label), paint.SemiBold, float64(b.textSize())) + 6
		c.FillRect(paint.Rect{X: face.CentreX() - width/2, Y: face.CentreY() + 0.5, W: width, H: 1.5}, ink.label)
	}
	c.StrokeRound(c.Visible(), float64(radiusControl+ringRoom), 2, ink.ring)
}

// Objects is the picture.
func (r *buttonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.picture.raster}
}

// Destroy has nothing to free.
func (r *buttonRenderer) Destroy() {}

// mix returns a with a part of b.
func mix(a, b color.Color, part float64) color.NRGBA {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	blend := func(p, q uint8) uint8 { return uint8(float64(p)*(1-part) + float64(q)*part + 0.5) }
	return color.NRGBA{blend(x.R, y.R), blend(x.G, y.G), blend(x.B, y.B), blend(x.A, y.A)}
}
