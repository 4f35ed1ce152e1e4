package ui

import (
	"fmt"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/shelf"
)

// listChange is what one saving, renaming or deleting did to the list of the
// user's own registrations.
type listChange struct{ before, after []project.Registration }

// ownRegistrations returns the user's own registrations.
func (w *Window) ownRegistrations() []project.Registration { return w.shelf.Now().Registrations }

// lookOnShelf brings in what other windows have kept in the meantime.
func (w *Window) lookOnShelf() {
	w.shelf.Look()
	w.knowOwn()
}

// registrations lists the built-in registrations and then the user's own.
func (w *Window) registrations() []project.Registration {
	return append(project.Registrations(), w.ownRegistrations()...)
}

// registrationNames lists the names of all registrations, the user's own last.
func (w *Window) registrationNames() (names []string) {
	for _, r := range w.registrations() {
		names = append(names, r.Name)
	}
	return names
}

// maxMenuRegistrations is how many of the user's own a menu shows, no more than
// a small window holds without scrolling; the list shows all of them.
const maxMenuRegistrations = 14

// knowOwn gives each of the user's own registrations its command, with the key
// that was chosen for it.
func (w *Window) knowOwn() {
	var list []*command.Command
	for _, r := range w.ownRegistrations() {
		list = append(list, command.OwnRegistration(r.Name, func() (project.Registration, bool) {
			own := w.ownRegistrations()
			if i := registrationIndex(own, r.Name); i >= 0 {
				return own[i], true
			}
			return project.Registration{}, false
		}))
	}
	w.commands.SetOwn(list)
	for _, c := range list {
		if line, ok := w.shelf.Now().Keys[c.ID]; ok {
			_ = w.commands.Rebind(c.ID, command.ReadStrokes(line)) // one that is taken by now is left
			if w.win != nil {                                      // else the window listens once it is made
				w.listenTo(c.Keys)
			}
		}
	}
}

// registrationsMenu lists the built-in registrations and then the user's own,
// those in a menu beside where the window is too low for both.
func (w *Window) registrationsMenu() *fyne.Menu {
	m := w.menu("Registration")
	built := append(m.Items, fyne.NewMenuItemSeparator())
	m.Items = append(slices.Clone(built), w.menu("Own registrations").Items...)
	if widget.NewMenu(m).MinSize().Height > w.win.Canvas().Size().Height-40 {
		m.Items = append(built, w.subMenu("Own registrations"))
	}
	return m
}

// registrationsForm lists the user's own registrations to choose, replace, rename
// and delete.
func (w *Window) registrationsForm() {
	s := w.session
	w.lookOnShelf()
	passage := s.HeardPassage()
	now := func() project.Registration { return s.Chart().Passages[passage].Registration }
	w.showList("Registrations of your own, for "+w.session.PassageQuoted(passage), func(f *listForm) {
		list := w.ownRegistrations()
		if len(list) == 0 {
			f.note("None so far: save what the passage sounds with under a name.")
		}
		for _, r := range list {
			name := r.Name
			if r == now() {
				name += " (as the passage is set)"
			}
			f.row(name, registrationText(r),
				f.button("Choose", func() { f.close(); w.grid.say(s.SetRegistrationOf(passage, r)) }),
				f.then("Replace", func() error { return w.saveRegistration(passage, r.Name) }),
				f.button("Rename…", func() { f.close(); w.renameRegistrationForm(r.Name) }),
				f.then("Delete", func() error { return w.dropRegistration(r.Name) }))
		}
	}, func(f *listForm) []*escButton {
		return []*escButton{
			f.button("Save under a name…", func() { f.close(); w.registrationNameForm() }),
			f.able(f.then("Take back", w.restoreRegistrations), func() bool { return len(w.listed) > 0 }),
		}
	})
}

// registrationText says in a line what a registration is set to.
func registrationText(r project.Registration) string {
	return fmt.Sprintf("%s · %s · %s · rotary %s · swell %.0f %%", digits(r.Upper[:]), digits(r.Lower[:]), digits(r.Pedal[:]), r.Rotary, 100*r.Swell)
}

// digits writes drawbars as players note them, a digit each.
func digits(bars []uint8) string {
	var b strings.Builder
	for _, v := range bars {
		fmt.Fprint(&b, v)
	}
	return b.String()
}

// registrationNameForm asks for the name under which the passage's registration
// is kept; the name that it has already, as one of the user's own, is offered.
func (w *Window) registrationNameForm() {
	passage := w.session.HeardPassage()
	name := strings.TrimSuffix(w.session.Heard().Registration.Name, project.ChangedMark)
	if _, ok := project.RegistrationByName(name); ok {
		name = ""
	}
	w.oneLine("Save the registration", "Name of the registration; one of your own of that name is replaced", name,
		func(name string) error { return w.saveRegistration(passage, name) })
}

// saveRegistration keeps the registration of a passage under a name, in place
// of an own one of that name, and gives the passage the name.
func (w *Window) saveRegistration(passage int, name string) error {
	r, err := w.namedRegistration(w.session.Chart().Passages[passage].Registration, name)
	if err != nil {
		return err
	}
	list := slices.Clone(w.ownRegistrations())
	if i := registrationIndex(list, r.Name); i >= 0 {
		list[i] = r
	} else if len(list) == project.MaxRegistrations {
		return fmt.Errorf("there are %d registrations of your own already; delete one first", len(list))
	} else {
		list = append(list, r)
	}
	if err := w.keepRegistrations(list); err != nil {
		return err
	}
	if r != w.session.Chart().Passages[passage].Registration {
		if err := w.session.SetRegistrationOf(passage, r); err != nil {
			return err
		}
	}
	w.session.Say(fmt.Sprintf("Saved as the registration %s.", r.Name))
	return nil
}

// namedRegistration refuses built-in names in the window's language, too.
func (w *Window) namedRegistration(r project.Registration, name string) (project.Registration, error) {
	r, err := project.NamedRegistration(r, name)
	if err != nil {
		return r, err
	}
	for _, b := range project.Registrations() {
		if strings.EqualFold(tr(b.Name), r.Name) {
			return r, fmt.Errorf("there is a built-in registration %q; choose another name", r.Name)
		}
	}
	return r, nil
}

func registrationIndex(list []project.Registration, name string) int {
	return slices.IndexFunc(list, func(r project.Registration) bool { return r.Name == name })
}

// keepRegistrations keeps the user's own registrations beside what other windows
// keep, and remembers what changed.
func (w *Window) keepRegistrations(list []project.Registration) error {
	change := listChange{w.ownRegistrations(), list}
	if err := w.changeRegistrations(change); err != nil {
		return err
	}
	w.listed = append(w.listed, change)
	return nil
}

func (w *Window) changeRegistrations(l listChange) error {
	err := w.shelf.Change(func(c *shelf.Content) error {
		c.Registrations = shelf.Merged(l.before, l.after, c.Registrations, func(r project.Registration) string { return r.Name })
		return nil
	})
	w.knowOwn()
	w.bench.update()
	return err
}

// renameRegistrationForm asks for another name and comes back to the list.
func (w *Window) renameRegistrationForm(from string) {
	w.oneLineThen("Rename the registration", "Name of the registration; charts that use it keep the name they have", from,
		func(to string) error { return w.renameRegistration(from, to) }, w.registrationsForm)
}

// renameRegistration gives one of the user's own another name, in the list and
// not in the chart.
func (w *Window) renameRegistration(from, to string) error {
	list := slices.Clone(w.ownRegistrations())
	i := registrationIndex(list, from)
	if i < 0 {
		return fmt.Errorf("there is no registration %q of your own any more", from)
	}
	r, err := w.namedRegistration(list[i], to)
	switch {
	case err != nil:
		return err
	case r.Name == from:
		return nil
	case registrationIndex(list, r.Name) >= 0:
		return fmt.Errorf("there is a registration %q of your own already; choose another name", r.Name)
	}
	list[i] = r
	if err := w.keepRegistrations(list); err != nil {
		return err
	}
	return w.moveKey(command.OwnRegistrationID(from), command.OwnRegistrationID(r.Name))
}

// moveKey gives the key of a command to the one that takes its place.
func (w *Window) moveKey(from, to string) error {
	if _, ok := w.shelf.Now().Keys[from]; !ok {
		return nil
	}
	err := w.shelf.Change(func(c *shelf.Content) error {
		c.Keys[to] = c.Keys[from]
		delete(c.Keys, from)
		return nil
	})
	w.knowOwn()
	return err
}

// dropRegistration forgets one of the user's own.
func (w *Window) dropRegistration(name string) error {
	return w.keepRegistrations(slices.DeleteFunc(slices.Clone(w.ownRegistrations()), func(r project.Registration) bool { return r.Name == name }))
}

// restoreRegistrations takes the last change of the user's own list back.
func (w *Window) restoreRegistrations() error {
	n := len(w.listed)
	if n == 0 {
		return fmt.Errorf("nothing was saved, renamed or deleted here that could be taken back")
	}
	last := w.listed[n-1]
	if err := w.changeRegistrations(listChange{last.after, last.before}); err != nil {
		return err
	}
	w.listed = w.listed[:n-1]
	from, to, ok := last.renamed()
	if !ok {
		return nil
	}
	return w.moveKey(command.OwnRegistrationID(to), command.OwnRegistrationID(from))
}

// renamed returns the names of a renaming, before and after.
func (l listChange) renamed() (from, to string, ok bool) {
	gone, come := missing(l.before, l.after), missing(l.after, l.before)
	if len(gone) != 1 || len(come) != 1 {
		return "", "", false
	}
	return gone[0], come[0], true
}

// missing lists the names in a list that another one lacks.
func missing(in, from []project.Registration) (names []string) {
	for _, r := range in {
		if registrationIndex(from, r.Name) < 0 {
			names = append(names, r.Name)
		}
	}
	return names
}
