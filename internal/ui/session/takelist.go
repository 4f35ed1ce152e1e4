package session

import (
	"errors"
	"fmt"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/words"
)

// TakeFacts is a take of the current passage as a list shows it.
type TakeFacts struct {
	Name  string
	InUse bool
	// Settings are its voicing, hand plan and registration in a line.
	Settings string
	// Differ counts the notes whose block is another than in the take in use.
	Differ int
}

// TakeFacts describes the takes of the current passage; nil where there is only
// one arrangement. Every take is arranged for it.
func (s *Session) TakeFacts() (out []TakeFacts) {
	p := s.Passage()
	for i, t := range p.Takes {
		f := TakeFacts{Name: takeTitle(p, i), InUse: i == p.Take}
		if f.InUse {
			f.Settings = settingsLine(p.Treatment, p.Plan, p.Registration)
		} else {
			f.Settings = settingsLine(t.Treatment, t.Plan, t.Registration)
			if c, err := (project.UseTake{Passage: s.CurrentPassage(), Take: i}).Apply(s.Chart()); err == nil {
				f.Differ = arrange.Differences(s.Chart(), c, s.CurrentPassage(), s.options())
			}
		}
		out = append(out, f)
	}
	return out
}

func settingsLine(t project.Treatment, p project.HandPlan, r project.Registration) string {
	return words.Voicing(t.Voicing) + " · " + words.Plan(p) + " · " + r.Name
}

// RenameTakeAt names a take of the current passage.
func (s *Session) RenameTakeAt(i int, name string) error {
	return s.Do(project.RenameTake{Passage: s.CurrentPassage(), Take: i, To: name})
}

// DropTakeAt deletes a take of the current passage; of the one in use, the one
// before comes into use.
func (s *Session) DropTakeAt(i int) error {
	return s.Do(project.DropTake{Passage: s.CurrentPassage(), Take: i})
}

// CompareTake loops the current passage and plays the take in use and take i in
// turn, a pass each, that take first. The chart stays as it is.
func (s *Session) CompareTake(i int) error {
	p := s.Passage()
	switch {
	case len(p.Takes) < 2:
		return s.fail(errors.New("the passage has one take only; make another to compare it with"))
	case i == p.Take || i < 0 || i >= len(p.Takes):
		return s.fail(errors.New("choose a take that is not in use to compare it with the one that is"))
	}
	s.Stop()
	chart, err := (project.UseTake{Passage: s.CurrentPassage(), Take: i}).Apply(s.Chart())
	if err != nil {
		return s.fail(err)
	}
	return s.comparePassage(chart, [2]string{takeTitle(p, p.Take), takeTitle(p, i)}, true)
}

// IsComparing reports whether two arrangements play in turn.
func (s *Session) IsComparing() bool { return s.transport.compare != nil }

// ChangeOver goes on with the other of two arrangements that play in turn, at the
// same place: keys that both hold sound on.
func (s *Session) ChangeOver() error {
	c := s.transport.compare
	if c == nil {
		return s.fail(errors.New("compare two takes first, then change over"))
	}
	t, playing := s.Cursor()
	if !playing {
		return nil
	}
	c.second = !c.second
	if err := s.again(t); err != nil {
		return err
	}
	s.Say(fmt.Sprintf("Comparing: %s.", c.names[b2i(c.second)]))
	return nil
}
