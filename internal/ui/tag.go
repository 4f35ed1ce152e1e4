package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/theory"
)

// tag is a small plate with a word: the technique of the block, in the colour
// of home or away with the word on it.
type tag struct {
	widget.BaseWidget
	w         *Window
	word      string
	technique theory.Technique
}

func newTag(w *Window) *tag {
	t := &tag{w: w}
	t.ExtendBaseWidget(t)
	return t
}

func (t *tag) show(word string, technique theory.Technique) {
	t.word, t.technique = word, technique
	t.Refresh()
}

// CreateRenderer draws the plate.
func (t *tag) CreateRenderer() fyne.WidgetRenderer {
	r := &tagRenderer{t: t, face: canvas.NewRectangle(color.Transparent), word: text("", sizeSmall+1, true, color.Black)}
	r.face.CornerRadius = 13
	r.Refresh()
	return r
}

type tagRenderer struct {
	t    *tag
	face *canvas.Rectangle
	word *canvas.Text
}

// Layout centres the word.
func (r *tagRenderer) Layout(s fyne.Size) {
	put(r.face, 0, 0, s.Width, s.Height)
	m := r.word.MinSize()
	put(r.word, (s.Width-m.Width)/2, (s.Height-m.Height)/2, m.Width, m.Height)
}

// MinSize is the word with room on both sides.
func (r *tagRenderer) MinSize() fyne.Size { return fyne.NewSize(r.word.MinSize().Width+24, 26) }

// Refresh follows technique and theme: a filled plate for home and borrowed,
// an outlined one for away, so that colour is not all that tells them apart.
func (r *tagRenderer) Refresh() {
	p := r.t.w.look.colours()
	r.word.Text = r.t.word
	r.face.StrokeWidth, r.face.StrokeColor = 0, color.Transparent
	r.face.FillColor, r.word.Color = p.Accent, p.OnAccent
	if r.t.technique == theory.Away {
		r.face.FillColor, r.word.Color = color.Transparent, p.Text
		r.face.StrokeWidth, r.face.StrokeColor = 1.5, p.Away
	}
	r.Layout(r.t.Size())
	canvas.Refresh(r.t)
}

// Objects are drawn in this order.
func (r *tagRenderer) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.face, r.word} }

// Destroy has nothing to free.
func (r *tagRenderer) Destroy() {}
