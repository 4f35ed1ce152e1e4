package ui

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/ui/session"
)

// statusLine stands under the grid: at the left what the next note will be,
// with buttons for its length; at the right the answer to the last action, or
// the hint of what the pointer is over.
type statusLine struct {
	w       *Window
	root    *fyne.Container
	values  []*button
	dot     *button
	triplet *button
	unfold  *button // shows the folded bench again
	message *canvas.Text
	hinted  string
	said    string // the message that was shown last
}

// valueLabels are the buttons' faces: the number under the fraction.
var valueLabels = map[int]string{1: "1", 2: "½", 4: "¼", 8: "⅛", 16: "1⁄16", 32: "1⁄32"}

func newStatusLine(w *Window) *statusLine {
	s := &statusLine{w: w, message: text("", sizeSmall+1, false, w.look.colours().Muted)}
	objects := []fyne.CanvasObject{}
	for _, v := range session.Values {
		b := s.command(valueLabels[v], fmt.Sprintf("length.%d", v))
		s.values = append(s.values, b)
		objects = append(objects, b)
	}
	s.dot, s.triplet = s.command("dot", "length.dot"), s.command("3", "length.triplet")
	s.unfold = s.command("Bench ◂", "view.bench")
	s.unfold.Hide()
	objects = append(objects, s.dot, s.triplet, s.message, s.unfold)
	s.root = container.New(&statusLayout{s}, objects...)
	return s
}

func (s *statusLine) command(label, id string) *button {
	b := s.w.top.command(label, id)
	b.compact = true
	return b
}

// update shows the entry and the message; a new message goes before the hint
// of what the pointer happens to rest on.
func (s *statusLine) update() {
	if m := s.w.session.Message(); m != s.said {
		s.said = m
		if m != "" {
			s.hinted = ""
		}
	}
	e := s.w.session.Entry()
	for i, v := range session.Values {
		s.values[i].setLabel(valueLabels[v], e.Value == v)
	}
	s.dot.setLabel("dot", e.Dotted)
	s.triplet.setLabel("3", e.Triplet)
	s.show()
}

// show writes the hint, the message, or what is selected.
func (s *statusLine) show() {
	line := s.hinted
	if line == "" {
		line = s.w.session.Message()
	}
	if line == "" {
		line = s.selection()
	}
	room := s.root.Size().Width - s.message.Position().X
	if s.unfold.Visible() {
		room -= s.unfold.MinSize().Width + 8
	}
	setText(s.message, fitText(line, s.message, room))
	s.message.Resize(s.message.MinSize())
}

// showFold shows the button of the folded bench.
func (s *statusLine) showFold(folded bool) {
	if folded {
		s.unfold.Show()
	} else {
		s.unfold.Hide()
	}
}

// selection says what the next command acts on.
func (s *statusLine) selection() string {
	sel := s.w.session.Selection()
	c := s.w.session.Chart()
	var parts []string
	if sel.HasBars() {
		parts = append(parts, fmt.Sprintf("bars %d–%d", c.BarNumber(sel.Bars[0]), c.BarNumber(sel.Bars[1]-1)))
	}
	switch n := len(sel.Notes); {
	case n == 1:
		if i, ok := c.NoteStarting(sel.Notes[0]); ok {
			parts = append(parts, c.Melody[i].Pitch.Pretty()+" selected")
		}
	case n > 1:
		parts = append(parts, fmt.Sprintf("%d notes selected", n))
	case sel.Caret >= c.Length():
		parts = append(parts, "at the end: a letter adds a bar")
	default:
		parts = append(parts, "next note: "+s.w.session.Entry().String())
	}
	return strings.Join(parts, " · ")
}

func (s *statusLine) retint() {
	s.message.Color = s.w.look.colours().Muted
	s.message.Refresh()
}

// hint shows what the pointer is over; "" takes it away.
func (w *Window) hint(line string) {
	w.status.hinted = line
	w.status.show()
}

// statusLayout places the buttons from the left and the message after them.
type statusLayout struct{ s *statusLine }

// MinSize is left to the frame.
func (*statusLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(300, lineHeight) }

// Layout places the line.
func (l *statusLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	x := float32(0)
	for _, b := range append(append([]*button{}, l.s.values...), l.s.dot, l.s.triplet) {
		w := max(b.MinSize().Width, 28)
		put(b, x, 0, w, size.Height)
		x += w + unit
		if b == l.s.values[len(l.s.values)-1] {
			x += 2 * unit
		}
	}
	unfold := l.s.unfold.MinSize().Width
	put(l.s.unfold, size.Width-unfold, 0, unfold, size.Height)
	h := l.s.message.MinSize().Height
	l.s.message.Move(fyne.NewPos(x+3*unit, (size.Height-h)/2))
	l.s.message.Resize(l.s.message.MinSize())
}
