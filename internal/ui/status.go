package ui

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"organbook/internal/project"
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
	steps   *button // keys write at the caret
	letters *button // letters play
	unfold  *button // shows the folded bench again
	message *canvas.Text
	hinted  string
	said    string // the message that was shown last
	since   int    // counts the messages, so that the end of an older one is ignored
}

// messageTime is how long the answer to an action stays. It goes at the next
// action, too; only that there is no sound is said as long as it is so.
const messageTime = 12 * time.Second

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
	s.steps, s.letters = s.command("step", "keys.steps"), s.command("letters", "keys.letters")
	s.unfold = s.command("Bench ◂", "view.bench")
	s.unfold.Hide()
	objects = append(objects, s.dot, s.triplet, s.steps, s.letters, s.message, s.unfold)
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
		s.since++
		if m != "" {
			s.hinted = ""
			if n := s.since; s.w.opts.post == nil {
				time.AfterFunc(messageTime, func() { fyne.Do(func() { s.expire(n) }) })
			}
		}
	}
	e := s.w.session.Entry()
	for i, v := range session.Values {
		s.values[i].setLabel(valueLabels[v], e.Value == v)
	}
	s.dot.setLabel("dot", e.Dotted)
	s.triplet.setLabel(tupletLabel(e.Tuplet), !e.Tuplet.IsZero())
	s.steps.setLabel("step", s.w.session.StepEntry())
	s.letters.setLabel("letters", s.w.keyboards.letters.on)
	s.show()
}

// nextAction takes the answer to the action before away.
func (s *statusLine) nextAction() {
	if !s.lasting() {
		s.w.session.Say("")
	}
}

// expire takes a message away when no other has come since.
func (s *statusLine) expire(since int) {
	if s.since == since {
		s.nextAction()
	}
}

// lasting reports whether the message says what is still so.
func (s *statusLine) lasting() bool {
	return s.w.soundSaid != "" && s.w.session.Message() == s.w.soundLine()
}

// tupletLabel is the number over the notes of the tuplet that is entered, or
// the triplet's.
func tupletLabel(t project.Tuplet) string {
	if t.IsZero() {
		return "3"
	}
	return strconv.Itoa(t.N)
}

// show writes the hint, the message, or what is selected.
func (s *statusLine) show() {
	line := tr(s.hinted)
	if line == "" {
		line = say(s.w.session.Said())
	}
	if line == "" {
		line = tr(s.selection())
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
		parts = append(parts, barsWords(c, sel.Bars[0], sel.Bars[1]))
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
	for _, b := range append(append([]*button{}, l.s.values...), l.s.dot, l.s.triplet, l.s.steps, l.s.letters) {
		w := max(b.MinSize().Width, 28)
		put(b, x, 0, w, lineHeight)
		setVisible(x+w <= size.Width, b) // each is a command
		x += w + unit
		if b == l.s.values[len(l.s.values)-1] || b == l.s.triplet {
			x += 2 * unit
		}
	}
	unfold := l.s.unfold.MinSize().Width
	put(l.s.unfold, size.Width-unfold, size.Height-lineHeight, unfold, lineHeight)
	if size.Height > lineHeight {
		x = -2 * unit // a line of its own
	}
	h := l.s.message.MinSize().Height
	l.s.message.Move(fyne.NewPos(x+3*unit, size.Height-(lineHeight+h)/2))
	l.s.show()
}
