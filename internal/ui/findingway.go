package ui

import (
	"strconv"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"organbook/internal/arrange"
	"organbook/internal/ui/command"
	"organbook/internal/ui/paint"
)

// wayOut is one way out of a finding: a button with the number that takes it
// by key, and what it does, in as many lines as it needs.
type wayOut struct {
	row         *findingRow
	button      *button
	text        string
	lines       []*canvas.Text
	top, bottom float32
}

// Sizes of a way out.
const (
	wayButton float32 = 24
	wayLeft           = findingLeft + wayButton + 8
)

func newWayOut(r *findingRow, k int, way arrange.Remedy) *wayOut {
	w := r.v.b.w
	hint := "Way out: " + say(way.Text)
	if k == 0 {
		hint += "  (Enter)"
	}
	o := &wayOut{row: r, text: prose(capital(say(way.Text)))}
	o.button = w.top.button(strconv.Itoa(k+1), hint, func() {
		w.grid.say(w.session.ApplyRemedy(r.index, k))
		w.focusPanel(command.Reach)
	})
	o.button.compact = true
	return o
}

// words is the text in lines for a width of the row.
func (o *wayOut) words(width float32) []string {
	return wrapWords(o.text, paint.Regular, float64(sizeSmall+1), float64(width-wayLeft-8))
}

// height is what the way out needs in a width of the row.
func (o *wayOut) height(width float32) float32 {
	return max(wayButton, findingLine*float32(len(o.words(width)))+4)
}

// layout places the way out at a height of the row and returns its end.
func (o *wayOut) layout(y, width float32) float32 {
	o.top, o.bottom = y, y+o.height(width)
	put(o.button, findingLeft, y, wayButton, wayButton)
	words := o.words(width)
	o.lines = o.lines[:0]
	at := y + 4
	for _, line := range words {
		t := text(line, sizeSmall+1, false, o.row.v.b.w.look.colours().Text)
		move(t, wayLeft, at)
		o.lines = append(o.lines, t)
		at += findingLine
	}
	return o.bottom
}

// holds reports whether a height of the row belongs to the way out.
func (o *wayOut) holds(y float32) bool { return o.top <= y && y < o.bottom }

func (o *wayOut) objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{o.button}
	for _, t := range o.lines {
		out = append(out, t)
	}
	return out
}
