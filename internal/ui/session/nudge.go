package session

import (
	"slices"

	"organbook/internal/project"
)

// nudged is a run of nudges of the same notes. Each is made from the chart before
// the first one, so that what one has cut comes back as the notes go back.
type nudged struct {
	// from and to are the charts before the first and after the last of them.
	from, to *project.Chart
	project.NudgeNotes
}

// Apply nudges the notes of the chart that the run began at.
func (n nudged) Apply(*project.Chart) (*project.Chart, error) { return n.NudgeNotes.Apply(n.from) }

// Nudge moves the target notes by the entry's grid, later or earlier, as far as
// the others leave room.
func (s *Session) Nudge(by int) error {
	targets := s.targets()
	if len(targets) == 0 {
		return nil
	}
	run := s.nudged
	if run.to != s.Chart() || !slices.Equal(shiftedBy(run.Starts, run.By), targets) {
		run = nudged{from: s.Chart(), NudgeNotes: project.NudgeNotes{Starts: targets}}
	}
	step := project.Ticks(by) * s.entry.Snap()
	run.By += step
	err := s.doThen(run, func() {
		s.sel = Selection{Caret: targets[0] + step, Anchor: targets[0] + step, Notes: shiftedBy(targets, step)}
	})
	if err == nil {
		run.to = s.Chart()
		s.nudged = run
	}
	return err
}
