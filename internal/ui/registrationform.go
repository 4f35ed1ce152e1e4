package ui

import (
	"slices"

	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
)

// registrationForm chooses a registration from the list.
func (w *Window) registrationForm() {
	s := w.session
	w.lookOnShelf()
	passage := s.HeardPassage()
	now := s.Heard().Registration
	list := w.registrations()
	if !slices.Contains(list, now) {
		list = append([]project.Registration{now}, list...)
	}
	sel := choice(list, registrationLabel(list), now)
	speed := choice(project.RotarySpeeds, project.Rotary.String, now.Rotary)
	sel.OnChanged = func(string) { speed.SetSelectedIndex(int(list[sel.SelectedIndex()].Rotary)) }
	items := []*widget.FormItem{widget.NewFormItem("Section of the band", sel), widget.NewFormItem("Rotary speaker", speed)}
	w.form("Registration of "+w.session.PassageQuoted(passage), items, sel, func() error {
		r := list[sel.SelectedIndex()]
		r.Rotary = project.RotarySpeeds[speed.SelectedIndex()]
		return s.SetRegistrationOf(passage, r)
	})
}

// registrationLabel names the registrations of a list; the first is marked where
// another one has its name.
func registrationLabel(list []project.Registration) func(project.Registration) string {
	return func(r project.Registration) string {
		if r == list[0] && slices.ContainsFunc(list[1:], func(o project.Registration) bool { return o.Name == r.Name }) {
			return r.Name + " (as it is now)"
		}
		return r.Name
	}
}
