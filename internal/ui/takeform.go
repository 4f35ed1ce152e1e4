package ui

import (
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// listDialog shows rows of text with buttons, and closes on Escape. build makes
// the rows anew; again does so after something changed.
func (w *Window) listDialog(title string, build func(row func(text string, buttons ...*escButton), closing, again func()), foot func(closing, again func()) []*escButton) {
	box := container.NewVBox()
	scroll := container.NewVScroll(box)
	scroll.SetMinSize(fyne.NewSize(620, 300))
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.focusPanel(command.Grid) }
	var again func()
	again = func() {
		box.Objects = nil
		build(func(text string, buttons ...*escButton) {
			label := widget.NewLabel(text)
			label.Wrapping = fyne.TextWrapWord
			side := container.NewHBox()
			for _, b := range buttons {
				side.Add(b)
			}
			box.Add(container.NewBorder(nil, nil, nil, side, label))
		}, closing, again)
		box.Refresh()
	}
	closeButton := newEscButton("Close", closing, closing)
	d = dialog.NewCustomWithoutButtons(title, scroll, w.win)
	buttons := []fyne.CanvasObject{}
	for _, b := range foot(closing, again) {
		buttons = append(buttons, b)
	}
	d.SetButtons(append(buttons, closeButton))
	again()
	d.Show()
	w.win.Canvas().Focus(closeButton)
}

// takesForm lists the takes of the passage.
func (w *Window) takesForm() {
	s := w.session
	say := func(err error) {
		if err != nil {
			s.Say(session.Sentence(err))
		}
	}
	w.listDialog("Takes of "+s.PassageTitle(s.CurrentPassage()), func(row func(string, ...*escButton), closing, again func()) {
		names, inUse := s.Takes()
		if len(names) == 0 {
			row("One arrangement so far. “Make a take” keeps it and goes on with a copy; both can then be compared by ear.")
		}
		for i, name := range names {
			then := func(do func() error) func() { return func() { say(do()); again() } }
			use := newEscButton("Use", then(func() error { return s.UseTake(i) }), closing)
			if i == inUse {
				name += "  (in use)"
				use.Disable()
			}
			drop := newEscButton("Delete", then(func() error {
				if err := s.UseTake(i); err != nil {
					return err
				}
				return s.DropTake()
			}), closing)
			if len(names) < 2 {
				drop.Disable()
			}
			row(name, use, drop)
		}
	}, func(closing, again func()) []*escButton {
		return []*escButton{
			newEscButton("Make a take", func() { say(s.MakeTake()); again() }, closing),
			newEscButton("Name…", func() { closing(); w.Form(command.FormTakeName) }, closing),
			newEscButton("Compare by ear", func() { say(s.CompareTakes()) }, closing),
			newEscButton("Proposals…", func() { closing(); w.Form(command.FormSurprise) }, closing),
		}
	})
}

// surpriseForm lists takes that would differ in a stated way; each is heard in
// turn with what is there, and kept or not.
func (w *Window) surpriseForm() {
	s := w.session
	seed := int64(0)
	w.listDialog("Proposals for "+s.PassageTitle(s.CurrentPassage()), func(row func(string, ...*escButton), closing, again func()) {
		offers := s.Proposals(seed)
		if len(offers) == 0 {
			row("No proposal changes a block here that no take has yet.")
		}
		for _, o := range offers {
			hear := newEscButton("Hear", func() { w.grid.say(s.HearProposal(o)) }, closing)
			keep := newEscButton("Keep", func() { s.Stop(); w.grid.say(s.KeepProposal(o)); closing() }, closing)
			row(fmt.Sprintf("%s (%s)", session.Sentence(errors.New(o.Says)), counted(o.Changed, "block")), hear, keep)
		}
	}, func(closing, again func()) []*escButton {
		return []*escButton{
			newEscButton("Others", func() { seed++; again() }, closing),
			newEscButton("Stop", s.Stop, closing),
		}
	})
}
