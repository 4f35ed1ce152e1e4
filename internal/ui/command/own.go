package command

import (
	"fmt"
	"slices"

	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// OwnMenu is the menu of commands that stand for things the user keeps.
const OwnMenu = "Own registrations"

// SetOwn puts commands for what the user keeps now in the place of those given
// before. They stand at the head of OwnMenu, and have no usual keys.
func (t *Table) SetOwn(list []*Command) {
	for _, c := range t.own {
		t.setKeys(c, nil)
		delete(t.byID, c.ID)
		delete(t.usual, c.ID)
	}
	t.list = slices.DeleteFunc(t.list, func(c *Command) bool { return slices.Contains(t.own, c) })
	at := max(0, slices.IndexFunc(t.list, func(c *Command) bool { return c.Menu == OwnMenu }))
	t.list = slices.Insert(t.list, at, list...)
	for _, c := range list {
		t.byID[c.ID] = c
	}
	t.own = list
}

// OwnRegistrationID is the id of the command of a registration that the user keeps.
func OwnRegistrationID(name string) string { return "registration.own." + name }

// OwnRegistration is the command that gives the passage a registration which the
// user keeps under a name; get finds it when the command is run.
func OwnRegistration(name string, get func() (project.Registration, bool)) *Command {
	c := choose(OwnMenu, OwnRegistrationID(name), name, func(s *session.Session) error {
		r, ok := get()
		if !ok {
			return fmt.Errorf("there is no registration %q of your own any more", name)
		}
		return s.SetRegistration(r)
	}, func(s *session.Session) bool {
		r, ok := get()
		return !ok || s.Heard().Registration.Name != r.Name
	})
	c.Applies = nil
	c.Also = "registration sound"
	return c
}
