package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
)

// toggle is a box with a word, ticked or not.
type toggle struct {
	formControl
	word string
	on   bool
}

var (
	_ fyne.Focusable    = (*toggle)(nil)
	_ fyne.Shortcutable = (*toggle)(nil)
)

func newToggle(w *Window, word string, change func(on bool)) *toggle {
	t := &toggle{word: word}
	t.w, t.act = w, func() { change(!t.on) }
	t.ExtendBaseWidget(t)
	return t
}

func (t *toggle) show(on bool) {
	if t.on != on {
		t.on = on
		t.Refresh()
	}
}

// CreateRenderer draws the box and its word.
func (t *toggle) CreateRenderer() fyne.WidgetRenderer {
	r := &toggleRenderer{t: t, box: canvas.NewRectangle(color.Transparent), ring: canvas.NewRectangle(color.Transparent),
		tick: [2]*canvas.Line{canvas.NewLine(color.Black), canvas.NewLine(color.Black)}, word: text(t.word, sizeText, false, color.Black)}
	r.box.CornerRadius, r.ring.CornerRadius = radiusMark, radiusControl
	r.tick[0].StrokeWidth, r.tick[1].StrokeWidth = 2, 2
	r.Refresh()
	return r
}

// toggleRenderer draws a box with a tick of two strokes in it.
type toggleRenderer struct {
	t         *toggle
	box, ring *canvas.Rectangle
	tick      [2]*canvas.Line
	word      *canvas.Text
}

// boxSize is the side of a toggle's box.
const boxSize float32 = 16

// Layout puts the box left of the word.
func (r *toggleRenderer) Layout(s fyne.Size) {
	y := (s.Height - boxSize) / 2
	put(r.ring, -4, 0, min(s.Width+4, r.word.MinSize().Width+boxSize+20), s.Height)
	put(r.box, 0, y, boxSize, boxSize)
	stroke := func(l *canvas.Line, x0, y0, x1, y1 float32) {
		l.Position1, l.Position2 = fyne.NewPos(x0, y+y0), fyne.NewPos(x1, y+y1)
	}
	stroke(r.tick[0], 3.5, 8, 7, 12)
	stroke(r.tick[1], 7, 12, 12.5, 4)
	move(r.word, boxSize+8, (s.Height-r.word.MinSize().Height)/2)
}

// MinSize holds the box and the word.
func (r *toggleRenderer) MinSize() fyne.Size {
	return fyne.NewSize(r.word.MinSize().Width+boxSize+16, controlHeight-4)
}

// Refresh follows state and theme.
func (r *toggleRenderer) Refresh() {
	p := r.t.w.look.colours()
	r.word.Color = p.Text
	r.box.FillColor, r.box.StrokeColor, r.box.StrokeWidth = p.Ground, mix(p.Raised, p.Muted, 0.8), 1.5
	if r.t.on {
		r.box.FillColor, r.box.StrokeWidth = p.Accent, 0
	} else if r.t.hovered {
		r.box.FillColor = mix(p.Panel, p.Text, 0.08)
	}
	for _, l := range r.tick {
		l.StrokeColor = color.Transparent
		if r.t.on {
			l.StrokeColor = p.OnAccent
		}
	}
	showRing(r.ring, r.t.focused, p)
	r.Layout(r.t.Size())
	for _, o := range r.Objects() {
		o.Refresh()
	}
}

// Objects are drawn in this order.
func (r *toggleRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ring, r.box, r.tick[0], r.tick[1], r.word}
}

// Destroy has nothing to free.
func (r *toggleRenderer) Destroy() {}
