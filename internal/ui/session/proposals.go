package session

import (
	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
)

// Proposals lists takes of the current passage that would differ from the one
// in use in a stated way, without those the passage has already. Seed 0 keeps
// the voicing, others choose one.
func (s *Session) Proposals(seed int64) (out []arrange.Proposal) {
	p := s.Passage()
	for _, offer := range arrange.Surprise(s.Chart(), s.CurrentPassage(), s.options(), seed) {
		if !known(p, offer.Treatment) {
			out = append(out, offer)
		}
	}
	return out
}

// HearProposal loops the current passage and plays a proposal and what is there
// in turn, a pass each, the proposal first. The chart stays as it is.
func (s *Session) HearProposal(o arrange.Proposal) error {
	s.Stop()
	i := s.CurrentPassage()
	chart, err := (project.SetTreatment{Passage: i, Treatment: o.Treatment}).Apply(s.Chart())
	if err != nil {
		return s.fail(err)
	}
	now := "as it is"
	if name := s.TakeName(); name != "" {
		now = name
	}
	return s.comparePassage(chart, [2]string{now, o.Name}, true)
}

// KeepProposal adds a proposal as a take and uses it.
func (s *Session) KeepProposal(o arrange.Proposal) error {
	change := project.TreatmentChange{Given: true, Treatment: o.Treatment}
	if err := s.Do(project.MakeTake{Passage: s.CurrentPassage(), NewName: o.Name, Change: change}); err != nil {
		return err
	}
	s.Tell(phrase.Of("New take, %s.", o.Says))
	return nil
}

// comparePassage is compareWith over the current passage.
func (s *Session) comparePassage(chart *project.Chart, names [2]string, second bool) error {
	from, to := s.Chart().PassageBars(s.CurrentPassage())
	return s.compareWith(chart, [2]int{from, to}, names, second)
}

// endComparison leaves the loop as it was before; one that was set while two takes
// played stays.
func (s *Session) endComparison() {
	if c := s.transport.compare; c != nil && s.transport.loop == c.bars {
		s.transport.loop = c.loop
	}
	s.transport.compare = nil
}

// compareWith loops bars, end excluded, and plays them in turn with how they are
// in another chart; second starts with that one. When it ends the loop is again
// what it was, so that playing goes on past the passage.
func (s *Session) compareWith(chart *project.Chart, bars [2]int, names [2]string, second bool) error {
	s.transport.compare = &comparison{other: arrange.Realise(chart, s.options()), names: names, second: second, bars: bars, loop: s.transport.loop}
	s.transport.loop = bars
	if err := s.playFrom(s.Chart().BarStart(bars[0])); err != nil {
		s.endComparison()
		return err
	}
	s.Say("Comparing: " + names[b2i(second)] + ".")
	return nil
}
