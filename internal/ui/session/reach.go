package session

import (
	"errors"
	"slices"
	"sync"

	"organbook/internal/arrange"
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// trying guards the report while ways out are tried: the window looks for them
// beside the user's typing, and a report remembers what it tried.
var trying sync.Mutex

// options are what the chart is arranged with.
func (s *Session) options() arrange.Options {
	p := s.player // a report keeps it
	return arrange.Options{Profile: &p}
}

// Options are what the chart is arranged with, for exports.
func (s *Session) Options() arrange.Options { return s.options() }

// Player returns the player that charts are arranged for which have none of
// their own.
func (s *Session) Player() reach.Profile { return s.player }

// Performer returns the player this chart is arranged for: its own, or Player.
func (s *Session) Performer() reach.Profile { return s.Reach().Profile }

// HasOwnPlayer reports whether the chart has a player of its own.
func (s *Session) HasOwnPlayer() bool { return s.Chart().Player != nil }

// SetOwnPlayer gives the chart a player of its own, as an edit.
func (s *Session) SetOwnPlayer(p reach.Profile) error {
	if err := p.Check(); err != nil {
		return err
	}
	return s.Do(project.SetPlayer{Player: arrange.PlayerOf(p)})
}

// DropOwnPlayer makes the chart for Player again, as an edit.
func (s *Session) DropOwnPlayer() error {
	if !s.HasOwnPlayer() {
		return nil
	}
	return s.Do(project.SetPlayer{})
}

// SetConsole says on which instrument the chart is played, as an edit; an ID
// may describe one of the user's own.
func (s *Session) SetConsole(id string) error { return s.Do(project.SetConsole{Console: id}) }

// SetPlayer arranges charts for another player, unless they have their own.
// The chart itself stays.
func (s *Session) SetPlayer(p reach.Profile) error {
	if err := p.Check(); err != nil {
		return err
	}
	if p == s.player {
		return nil
	}
	s.player = p
	s.real = arrange.Realise(s.Chart(), s.options())
	s.alternatives, s.grouped = nil, nil
	s.ways = nil
	s.finding = min(s.finding, len(s.Reach().Findings)-1)
	s.refreshSound()
	s.notify(ChartChanged | SelectionChanged)
	return nil
}

// Reach returns how the player's limbs play the chart, and what they cannot.
func (s *Session) Reach() *arrange.ReachReport { return s.real.Reach() }

// Finding returns the index of the finding that was walked to, -1 for none.
func (s *Session) Finding() int {
	if s.finding >= len(s.Reach().Findings) {
		return -1
	}
	return s.finding
}

// HasFindings reports whether the report has anything to walk through.
func (s *Session) HasFindings() bool { return len(s.Reach().Findings) > 0 }

// StepFinding walks to the next or the previous finding; from none it starts
// with the first one.
func (s *Session) StepFinding(by int) {
	n := len(s.Reach().Findings)
	if n > 0 {
		s.PickFinding(min(max(s.Finding()+by, 0), n-1))
	}
}

// PickFinding walks to finding i and selects its place: the note that starts
// there, or the caret where none does.
func (s *Session) PickFinding(i int) {
	r := s.Reach()
	if i < 0 || i >= len(r.Findings) {
		return
	}
	s.finding = i
	at := project.Ticks(r.Findings[i].Worst)
	if note, ok := s.Chart().NoteStarting(at); ok && s.Chart().Melody[note].Start == at {
		s.SelectNote(note, false)
		return
	}
	s.SetCaret(at)
}

// FindingAt returns the finding of the report that stands behind a finding of
// the realisation, -1 where that one is not the report's.
func (s *Session) FindingAt(f arrange.Finding) int {
	return slices.IndexFunc(s.Reach().Findings, func(g reach.Finding) bool {
		return project.Ticks(g.At) == f.Start && g.Text == f.Text
	})
}

// KnownRemedies returns the ways out of finding i if they were worked out.
func (s *Session) KnownRemedies(i int) ([]arrange.Remedy, bool) {
	w := s.ways
	if w == nil || w.report != s.Reach() {
		return nil, false
	}
	list, ok := w.of[i]
	return list, ok
}

// ways are the ways out worked out so far for one report.
type ways struct {
	report *arrange.ReachReport
	of     map[int][]arrange.Remedy
}

// WaysOut works out the ways out of a finding of a report; it tries each on the
// whole chart and may be called from any goroutine.
func WaysOut(report *arrange.ReachReport, i int) []arrange.Remedy {
	trying.Lock()
	defer trying.Unlock()
	return report.Remedies(i)
}

// KeepRemedies remembers what WaysOut found; what belongs to a report that an
// edit has overtaken is dropped, and false returned.
func (s *Session) KeepRemedies(report *arrange.ReachReport, i int, list []arrange.Remedy) bool {
	if report != s.Reach() {
		return false
	}
	if s.ways == nil || s.ways.report != report {
		s.ways = &ways{report: report, of: map[int][]arrange.Remedy{}}
	}
	s.ways.of[i] = list
	return true
}

// Remedies returns the ways out of finding i, worked out now if need be.
func (s *Session) Remedies(i int) []arrange.Remedy {
	list, ok := s.KnownRemedies(i)
	if !ok {
		report := s.Reach()
		list = WaysOut(report, i)
		s.KeepRemedies(report, i, list)
	}
	return list
}

// ApplyRemedy takes way out k of finding i as one edit.
func (s *Session) ApplyRemedy(i, k int) error {
	r := s.Reach()
	if i < 0 || i >= len(r.Findings) {
		return s.fail(errors.New("no finding is chosen; the arrow keys walk through them"))
	}
	list := s.Remedies(i)
	if k < 0 || k >= len(list) {
		return s.fail(errors.New("no way out: " + r.Findings[i].ByHand().String()))
	}
	at := r.Findings[i].At
	if err := s.Do(list[k].Edit); err != nil {
		return err
	}
	s.finding = s.findingFrom(at)
	s.Tell(phrase.Of("Done: %s.", list[k].Text))
	s.notify(SelectionChanged)
	return nil
}

// findingFrom returns the first finding at a position or after it, or the last.
func (s *Session) findingFrom(at reach.Ticks) int {
	list := s.Reach().Findings
	for i := range list {
		if list[i].At >= at {
			return i
		}
	}
	return len(list) - 1
}

// followFinding chooses, where findings are walked through, the one that came back
// with what was undone or done again, of several the one at the selection that came
// back with it; without one it stays at its place in the list.
func (s *Session) followFinding(before *arrange.ReachReport) {
	if s.finding < 0 && len(before.Findings) > 0 {
		return // nobody walks through them
	}
	back := -1
	for i, f := range s.Reach().Findings {
		if slices.ContainsFunc(before.Findings, func(g reach.Finding) bool {
			return g.At == f.At && g.Kind == f.Kind && g.Limb == f.Limb && g.Text.String() == f.Text.String()
		}) {
			continue
		}
		here := project.Ticks(f.Worst) == s.sel.Caret || slices.Contains(s.sel.Notes, project.Ticks(f.Worst))
		if back < 0 || here {
			back = i
		}
		if here {
			break
		}
	}
	if back < 0 {
		back = min(s.finding, len(s.Reach().Findings)-1)
	}
	s.finding = back
}

// ApplyFirstRemedy takes the best way out of the finding that was walked to.
func (s *Session) ApplyFirstRemedy() error { return s.ApplyRemedy(s.Finding(), 0) }

// Stretches says for each hand how far it opens for the bench's note, in
// sentences.
func (s *Session) Stretches() (out []phrase.Phrase) {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	var keys [2][]int
	for _, n := range s.real.Notes {
		if n.Start > step.Start {
			break
		}
		if n.Limb <= arrange.LeftHand && step.Start < n.Start+n.Duration {
			keys[n.Limb] = append(keys[n.Limb], n.Key)
		}
	}
	for hand, held := range keys {
		if len(held) > 1 {
			out = append(out, phrase.Of("%s.", reach.StretchText(s.Performer(), reach.Limb(hand), held...)))
		}
	}
	return out
}

// Touches says, in sentences, what the limbs do with the keys that the bench's
// note is played with besides striking them: fingers that take over, slides,
// and how the feet take their pedals.
func (s *Session) Touches() (out []phrase.Phrase) {
	step, ok := s.Step()
	if !ok {
		return nil
	}
	for i := range s.real.Notes {
		n := &s.real.Notes[i]
		if n.Start > step.Start {
			break
		}
		if step.Start >= n.Start+n.Duration {
			continue
		}
		if text := touchOf(n); !text.IsZero() {
			out = append(out, phrase.Of("%s.", text))
		}
	}
	return out
}

func touchOf(n *arrange.Note) phrase.Phrase {
	name, limb := theory.Pretty(n.Pitch.String()), n.Limb.Subject()
	switch {
	case n.Part != reach.NoPart:
		text := phrase.Of("%s takes %s with %s", limb, name, phrase.Of("the "+n.Part.String()))
		switch n.Cross {
		case reach.InFront:
			text = phrase.Of("%s, in front of the other foot", text)
		case reach.Behind:
			text = phrase.Of("%s, behind the other foot", text)
		}
		if n.Glide {
			text = phrase.Of("%s, sliding over", text)
		}
		return text
	case n.Then > 0:
		return phrase.Of("%s changes from %d to %d on %s in silence", limb, n.Finger, n.Then, name)
	case n.Glide:
		return phrase.Of("%s slides to %s with finger %d", limb, name, n.Finger)
	}
	return phrase.Phrase{}
}
