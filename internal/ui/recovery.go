package ui

import (
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/rescue"
	"organbook/internal/ui/session"
)

// openDesk takes a place for unsaved work and looks for what crashes left.
func (w *Window) openDesk() error {
	if w.opts.Journal == "" {
		return nil
	}
	desk, err := rescue.Open(w.opts.Journal)
	if err != nil {
		return err
	}
	w.desk, w.left = desk, desk.Left()
	if w.opts.post != nil { // a test, which looks at the file when the edit is done
		w.session.KeepJournal(desk.Journal())
		return nil
	}
	w.keeper = newKeeper(desk.Journal(), func(err error) { fyne.Do(func() { w.session.JournalFailed(err) }) })
	w.session.KeepJournal(w.keeper)
	return nil
}

// Settle returns when all unsaved work is on the disk.
func (w *Window) Settle() {
	if w.keeper != nil {
		w.keeper.settle()
	}
}

// offerRecovered asks about work that crashes left behind, one after the
// other, latest first, until one is opened. What is not decided is offered at
// the next start.
func (w *Window) offerRecovered() {
	if len(w.left) == 0 {
		return
	}
	found := w.left[0]
	w.left = w.left[1:]
	if found.Err != nil {
		found.Keep()
		w.session.Say(session.Sentence(found.Err))
		w.offerRecovered()
		return
	}
	later := func() { found.Keep(); w.offerRecovered() }
	w.ask(question{
		title: "Unsaved work was found",
		text:  recoveryText(found),
		answers: []answer{
			{"Let it go", func() { w.sayError(found.LetGo()); w.offerRecovered() }},
			{"Ask me later", later},
			{"Open it", func() { w.openFound(found) }},
		},
		keyboard: 2, highlight: 2, escape: later,
	})
}

// openFound opens recovered work, which from then on is in the own journal;
// the rest waits for the next start.
func (w *Window) openFound(found rescue.Found) {
	w.session.OpenRecovered(found.Recovered)
	w.Settle() // before what it came from goes
	w.sayError(found.LetGo())
	if n := len(w.left); n > 0 {
		w.session.Say("The unsaved work is open. Asked about at the next start: " + counted(n, "more chart") + ".")
	}
	for _, f := range w.left {
		f.Keep()
	}
	w.left = nil
}

func (w *Window) sayError(err error) {
	if err != nil {
		w.session.Say(session.Sentence(err))
	}
}

// recoveryText asks about recovered work.
func recoveryText(f rescue.Found) string {
	return "The program ended with unsaved work on " + nameOfFound(f) + ". Open it?"
}

// nameOfFound names recovered work by its title, its file and its time.
func nameOfFound(f rescue.Found) string {
	name := "an untitled chart"
	switch {
	case f.Original != "" && f.Chart.Title == "":
		name = session.Quoted(filepath.Base(f.Original))
	case f.Chart.Title != "":
		name = "“" + f.Chart.Title + "”"
		if f.Original != "" {
			name += " (" + session.Quoted(filepath.Base(f.Original)) + ")"
		}
	}
	if !f.When.IsZero() {
		name += fmt.Sprintf(", last changed on %s", f.When.Format("2 January at 15:04"))
	}
	return name
}
