package session

import (
	"fmt"

	"organbook/internal/project"
)

// ApplyTemplate sets the current passage as a template says.
func (s *Session) ApplyTemplate(t project.Template) error {
	if err := s.Do(project.ApplyTemplate{Passage: s.CurrentPassage(), Template: t}); err != nil {
		return err
	}
	s.Say(fmt.Sprintf("%s is now set as %s.", s.PassageQuoted(s.CurrentPassage()), t.Name))
	return nil
}

// HearTemplate loops the current passage and plays it set as a template says and
// as it is in turn, a pass each, the template first. The chart stays as it is.
func (s *Session) HearTemplate(t project.Template) error {
	s.Stop()
	chart, err := (project.ApplyTemplate{Passage: s.CurrentPassage(), Template: t}).Apply(s.Chart())
	if err != nil {
		return s.fail(err)
	}
	return s.comparePassage(chart, [2]string{"as it is", t.Name}, true)
}

// CanMakePassage reports whether the selected bars could be a passage of their
// own.
func (s *Session) CanMakePassage() bool {
	from, to := s.BarSpan()
	first, end := s.Chart().PassageBars(s.CurrentPassage())
	return from >= first && to <= end && to-from < end-first
}

// MakePassage makes a passage of the selected bars, named after the section
// label of the first; the caret goes to it.
func (s *Session) MakePassage() error {
	from, _ := s.BarSpan()
	return s.makePassage(s.Chart().Bars[from].Section)
}

func (s *Session) makePassage(name string, more ...project.Edit) error {
	from, to := s.BarSpan()
	edits := append([]project.Edit{project.MakePassage{First: from, End: to, NewName: name}}, more...)
	start := s.Chart().BarStart(from)
	return s.doThen(sequence{"make passage", edits}, func() { s.sel = Selection{Caret: start, Anchor: start} })
}

// ApplyTemplateToBars makes a passage of the selected bars, set and named as a
// template says, as one edit.
func (s *Session) ApplyTemplateToBars(t project.Template) error {
	from, _ := s.BarSpan()
	i := s.Chart().PassageAt(from)
	if s.Chart().Passages[i].First != from {
		i++ // the new passage comes after the one it is made of
	}
	return s.makePassage(t.Name, project.ApplyTemplate{Passage: i, Template: t})
}

// TemplateNow returns the current passage's settings as a template.
func (s *Session) TemplateNow(name string) project.Template {
	return project.TemplateOf(s.Passage(), name)
}
