package ui

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// bar is a horizontal control for one value from 0 to 1: a filled length, set
// by clicking, dragging, the wheel, or the arrow keys.
type bar struct {
	widget.BaseWidget
	w     *Window
	value float64
	step  float64
	tell  func(float64)
	// late tells the value when the pointer lets go, not on the way there.
	late bool
	held bool
	// second is told where the second button of the mouse was pressed; nil for
	// nothing. end is a second value, shown as a mark while marked.
	second  func(float64)
	end     float64
	marked  bool
	hint    string
	focused bool
}

var (
	_ fyne.Widget       = (*bar)(nil)
	_ fyne.Draggable    = (*bar)(nil)
	_ fyne.Scrollable   = (*bar)(nil)
	_ fyne.Focusable    = (*bar)(nil)
	_ desktop.Mouseable = (*bar)(nil)
	_ desktop.Hoverable = (*bar)(nil)
)

func newBar(w *Window, step float64, hint string, set func(float64)) *bar {
	b := &bar{w: w, step: step, tell: set, hint: hint}
	b.ExtendBaseWidget(b)
	return b
}

// show displays a value without telling anyone.
func (b *bar) show(v float64) {
	if v != b.value {
		b.value = v
		b.Refresh()
	}
}

// showEnd displays the second value, if it is to be marked.
func (b *bar) showEnd(v float64, marked bool) {
	if v != b.end || marked != b.marked {
		b.end, b.marked = v, marked
		b.Refresh()
	}
}

func (b *bar) change(v float64) {
	v = min(max(v, 0), 1)
	if b.late && b.held {
		b.show(v)
		return
	}
	b.tell(v)
}

// letGo tells a value that was held back.
func (b *bar) letGo() {
	if b.held {
		b.held = false
		if b.late {
			b.tell(b.value)
		}
	}
}

func (b *bar) at(x float32) float64 { return float64(x / max(b.Size().Width, 1)) }

// MouseDown sets the value under the pointer.
func (b *bar) MouseDown(e *desktop.MouseEvent) {
	b.w.win.Canvas().Focus(b)
	if b.second != nil && e.Button == desktop.MouseButtonSecondary {
		b.second(b.at(e.Position.X))
		return
	}
	b.held = true
	b.change(b.at(e.Position.X))
}

// MouseUp lets go.
func (b *bar) MouseUp(*desktop.MouseEvent) { b.letGo() }

// Dragged follows the pointer.
func (b *bar) Dragged(e *fyne.DragEvent) { b.change(b.at(e.Position.X)) }

// DragEnd lets go.
func (b *bar) DragEnd() { b.letGo() }

// Scrolled moves by a step.
func (b *bar) Scrolled(e *fyne.ScrollEvent) {
	if e.Scrolled.DY > 0 {
		b.change(b.value + b.step)
	} else if e.Scrolled.DY < 0 {
		b.change(b.value - b.step)
	}
}

// MouseIn shows the hint.
func (b *bar) MouseIn(*desktop.MouseEvent) { b.w.hint(b.hint) }

// MouseMoved does nothing.
func (b *bar) MouseMoved(*desktop.MouseEvent) {}

// MouseOut takes the hint away.
func (b *bar) MouseOut() { b.w.hint("") }

// FocusGained shows the ring.
func (b *bar) FocusGained() { b.focused = true; b.Refresh() }

// FocusLost hides the ring.
func (b *bar) FocusLost() { b.focused = false; b.Refresh() }

// TypedRune hands characters to the commands.
func (b *bar) TypedRune(r rune) { b.w.stroke(command.Transport, strokeOfRune(r)) }

// TypedKey moves by a step on the arrows.
func (b *bar) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyRight, fyne.KeyUp:
		b.change(b.value + b.step)
	case fyne.KeyLeft, fyne.KeyDown:
		b.change(b.value - b.step)
	default:
		if k, ok := strokeOfKey(e, modifiers()); ok {
			b.w.stroke(command.Transport, k)
		}
	}
}

// TypedShortcut hands keys with Ctrl or Alt to the commands.
func (b *bar) TypedShortcut(s fyne.Shortcut) { b.w.stroke(command.Transport, strokeOfShortcut(s)) }

// CreateRenderer draws the bar.
func (b *bar) CreateRenderer() fyne.WidgetRenderer {
	r := &barRenderer{b: b, ring: canvas.NewRectangle(color.Transparent), track: canvas.NewRectangle(color.Transparent), fill: canvas.NewRectangle(color.Transparent), end: canvas.NewRectangle(color.Transparent)}
	r.track.CornerRadius, r.fill.CornerRadius, r.ring.CornerRadius = 3, 3, radiusMark
	r.Refresh()
	return r
}

type barRenderer struct {
	b                 *bar
	ring, track, fill *canvas.Rectangle
	end               *canvas.Rectangle
}

// Layout centres a track of six units on the height.
func (r *barRenderer) Layout(s fyne.Size) {
	put(r.ring, -3, -1, s.Width+6, s.Height+2)
	put(r.track, 0, s.Height/2-3, s.Width, 6)
	put(r.fill, 0, s.Height/2-3, s.Width*float32(r.b.value), 6)
	put(r.end, (s.Width-2)*float32(r.b.end), s.Height/2-6, 2, 12)
}

// MinSize is a short bar.
func (r *barRenderer) MinSize() fyne.Size { return fyne.NewSize(40, 14) }

// Refresh follows value and theme.
func (r *barRenderer) Refresh() {
	p := r.b.w.look.colours()
	r.track.FillColor, r.fill.FillColor, r.end.FillColor = p.Line, p.Accent, p.Text
	r.end.Hidden = !r.b.marked
	r.ring.StrokeWidth, r.ring.StrokeColor = 0, color.Transparent
	if r.b.focused {
		r.ring.StrokeWidth, r.ring.StrokeColor = 1.5, p.Accent
	}
	r.Layout(r.b.Size())
	canvas.Refresh(r.b)
}

// Objects are drawn in this order.
func (r *barRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ring, r.track, r.fill, r.end}
}

// Destroy has nothing to free.
func (r *barRenderer) Destroy() {}

// levelRange is how many decibels the length of the level's bar stands for.
const levelRange = 48.0

// newLevelBar is the control of the loudness, in whole decibels.
func newLevelBar(w *Window) *bar {
	return newBar(w, 1/levelRange, "Level of the built-in sound. Prolonged loud listening harms hearing.", func(v float64) {
		w.session.SetLevel(math.Round(v*levelRange - levelRange))
	})
}

// levelPart is the part of the bar that a loudness fills.
func levelPart(db float64) float64 { return (db + levelRange) / levelRange }
