package ui

import (
	"fmt"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/session"
)

// question is something to decide before going on.
type question struct {
	title, text string
	// answers stand from left to right; Escape is the first that only closes.
	answers []answer
	// keyboard is the answer that Enter gives at first, highlight the one that
	// is shown as the way on.
	keyboard, highlight int
	// escape is what Escape does; nil is the first answer.
	escape func()
}

// answer is one way to go on.
type answer struct {
	label string
	do    func()
}

// questionWidth is the width at which the text of a question is broken into lines.
const questionWidth float32 = 600

// ask puts a question.
func (w *Window) ask(q question) {
	var d *dialog.CustomDialog
	closing := func(f func()) func() { return func() { d.Hide(); w.regain(); f() } }
	if q.escape == nil {
		q.escape = q.answers[0].do
	}
	var buttons []fyne.CanvasObject
	for i, a := range q.answers {
		b := newEscButton(a.label, closing(a.do), closing(q.escape))
		if i == q.highlight {
			b.Importance = widget.HighImportance
		}
		buttons = append(buttons, b)
	}
	text := widget.NewLabel(tr(q.text))
	d = dialog.NewCustomWithoutButtons(tr(q.title), text, w.win)
	d.SetButtons(buttons)
	if room := min(questionWidth, w.win.Canvas().Size().Width-40); d.MinSize().Width > room {
		text.Wrapping = fyne.TextWrapWord
		d.Resize(fyne.NewSize(room, 170))
	}
	d.Show()
	w.giveDialog(buttons[q.keyboard].(fyne.Focusable))
}

// showError shows a sentence with a button to go on.
func (w *Window) showError(err error) {
	label := widget.NewLabel(sentence(err))
	label.Wrapping = fyne.TextWrapWord
	w.showPage("This did not work", label, fyne.NewSize(460, 160))
}

// showPage shows content with a button to close it, which has the keyboard.
func (w *Window) showPage(title string, content fyne.CanvasObject, size fyne.Size) {
	d := dialog.NewCustomWithoutButtons(tr(title), content, w.win)
	closing := func() { d.Hide(); w.regain() }
	b := newEscButton("Close", closing, closing)
	d.SetButtons([]fyne.CanvasObject{b})
	d.Resize(size)
	d.Show()
	w.giveDialog(b)
}

// maxWarnings is how many sentences of an import are listed.
const maxWarnings = 200

// showWarnings lists what an import had to say.
func (w *Window) showWarnings(path string, warnings []string) {
	var shown []string
	for _, s := range warnings[:min(len(warnings), maxWarnings)] {
		shown = append(shown, tr(s))
	}
	label := widget.NewLabel("• " + strings.Join(shown, "\n• "))
	label.Wrapping = fyne.TextWrapWord
	title := fmt.Sprintf("%s was read; %s", session.Quoted(filepath.Base(path)), counted(len(warnings), "remark"))
	w.showPage(title, container.NewVScroll(label), fyne.NewSize(620, 360))
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
