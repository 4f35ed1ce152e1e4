package ui

import (
	"errors"
	"fmt"
	"slices"

	"organbook/internal/project"
	"organbook/internal/ui/shelf"
	"organbook/internal/ui/words"
)

// templates lists the built-in templates and then the user's own.
func (w *Window) templates() []project.Template {
	return append(project.Templates(), w.shelf.Now().Templates...)
}

// templatesForm lists the templates; each sets up the passage or, as a passage of
// their own, the selected bars.
func (w *Window) templatesForm() {
	s := w.session
	w.lookOnShelf()
	built := len(project.Templates())
	w.showList("Templates for "+w.session.PassageQuoted(s.CurrentPassage()), func(f *listForm) {
		for i, t := range w.templates() {
			name := t.Name
			if t.Fits(s.Passage()) {
				name += " (as the passage is set)"
			}
			apply := func(label string, do func(project.Template) error) *escButton {
				return f.button(label, func() {
					if s.IsComparing() {
						s.Stop()
					}
					w.grid.say(do(t))
					f.close()
				})
			}
			hear := f.button("Hear", func() { w.grid.say(s.HearTemplate(t)) })
			buttons := []*escButton{hear, apply("Apply", s.ApplyTemplate)}
			if sel := s.Selection(); s.CanMakePassage() && (sel.HasBars() || len(sel.Notes) > 1) {
				buttons = append(buttons, apply("To "+barsText(s), s.ApplyTemplateToBars))
			}
			if i >= built {
				buttons = append(buttons, f.then("Delete", func() error { return w.dropTemplate(t.Name) }))
			}
			f.row(name, templateText(t), buttons...)
		}
	}, func(f *listForm) []*escButton {
		return append([]*escButton{f.button("Save the passage…", func() { f.close(); w.templateNameForm() })}, f.comparing()...)
	})
}

// templateText says in a line what a template sets.
func templateText(t project.Template) string {
	return words.Voicing(t.Treatment.Voicing) + " · " + words.Plan(t.Plan) + " · bass " + words.Bass(t.Bass) + " · " + t.Registration.Name
}

// templateNameForm asks for the name of a template made of the passage.
func (w *Window) templateNameForm() {
	w.oneLine("Save as a template", "Name of the template; what the passage is set to now can then be given to others", w.session.Passage().Name, w.saveTemplate)
}

// saveTemplate keeps the passage's settings under a name, in place of an own
// template of that name.
func (w *Window) saveTemplate(name string) error {
	t := w.session.TemplateNow(name)
	switch {
	case t.Name == "":
		return errors.New("write a name for the template")
	case slices.ContainsFunc(project.Templates(), func(b project.Template) bool { return b.Name == t.Name }):
		return fmt.Errorf("there is a built-in template %q; choose another name", t.Name)
	}
	list := slices.Clone(w.shelf.Now().Templates)
	if i := slices.IndexFunc(list, func(o project.Template) bool { return o.Name == t.Name }); i >= 0 {
		list[i] = t
	} else if len(list) == project.MaxTemplates {
		return fmt.Errorf("there are %d templates of your own already; delete one first", len(list))
	} else {
		list = append(list, t)
	}
	if err := w.keepTemplates(list); err != nil {
		return err
	}
	w.session.Say(fmt.Sprintf("Saved as the template %s.", t.Name))
	w.bench.update()
	return nil
}

// dropTemplate forgets a template of the user's own.
func (w *Window) dropTemplate(name string) error {
	err := w.keepTemplates(slices.DeleteFunc(slices.Clone(w.shelf.Now().Templates), func(t project.Template) bool { return t.Name == name }))
	w.bench.update()
	return err
}

// keepTemplates keeps the user's own templates beside what other windows keep.
func (w *Window) keepTemplates(list []project.Template) error {
	before := w.shelf.Now().Templates
	return w.shelf.Change(func(c *shelf.Content) error {
		c.Templates = shelf.Merged(before, list, c.Templates, func(t project.Template) string { return t.Name })
		return nil
	})
}
