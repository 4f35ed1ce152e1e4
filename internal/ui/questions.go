package ui

import (
	"errors"
	"fmt"
	"organbook/internal/ui/session"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
)

// offerRecovered asks about work that a crash left behind.
func (w *Window) offerRecovered() {
	r, err := w.recovered, w.recoveryError
	if w.opts.Journal == "" || errors.Is(err, project.ErrNoJournal) {
		return
	}
	if err != nil {
		w.session.Say(session.Sentence(err))
		return
	}
	name := r.Chart.Title
	if name == "" {
		name = "an untitled chart"
	} else {
		name = "“" + name + "”"
	}
	open := func() {
		w.session.Open(r.Chart, r.Original)
		w.session.MarkUnsaved()
	}
	w.ask("Unsaved work was found", "The program ended with unsaved work on "+name+". Open it?", "Open it", "Let it go", open, w.session.ForgetJournal)
}

// ask puts a question with two answers; the first one has the keyboard, Escape
// is the second.
func (w *Window) ask(title, question, yes, no string, agree, decline func()) {
	var d *dialog.CustomDialog
	answer := func(f func()) func() { return func() { d.Hide(); w.focusPanel(gridPanel); f() } }
	first := newEscButton(yes, answer(agree), answer(decline))
	first.Importance = widget.HighImportance
	second := newEscButton(no, answer(decline), answer(decline))
	d = dialog.NewCustomWithoutButtons(title, widget.NewLabel(question), w.win)
	d.SetButtons([]fyne.CanvasObject{second, first})
	d.Show()
	w.win.Canvas().Focus(first)
}

// showError shows a sentence with a button to go on.
func (w *Window) showError(err error) {
	label := widget.NewLabel(session.Sentence(err))
	label.Wrapping = fyne.TextWrapWord
	w.showPage("This did not work", label, fyne.NewSize(460, 160))
}

// showPage shows content with a button to close it, which has the keyboard.
func (w *Window) showPage(title string, content fyne.CanvasObject, size fyne.Size) {
	d := dialog.NewCustomWithoutButtons(title, content, w.win)
	closing := func() { d.Hide(); w.focusPanel(gridPanel) }
	b := newEscButton("Close", closing, closing)
	d.SetButtons([]fyne.CanvasObject{b})
	d.Resize(size)
	d.Show()
	w.win.Canvas().Focus(b)
}

// maxWarnings is how many sentences of an import are listed.
const maxWarnings = 200

// showWarnings lists what an import had to say.
func (w *Window) showWarnings(path string, warnings []string) {
	shown := warnings[:min(len(warnings), maxWarnings)]
	label := widget.NewLabel("• " + strings.Join(shown, "\n• "))
	label.Wrapping = fyne.TextWrapWord
	title := fmt.Sprintf("%s was read; %s", filepath.Base(path), counted(len(warnings), "note"))
	w.showPage(title, container.NewVScroll(label), fyne.NewSize(620, 360))
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
