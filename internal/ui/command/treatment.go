package command

import (
	"strings"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/session"
)

// takeCommands make, switch, compare and delete takes of the current passage.
func takeCommands() []*Command {
	has := (*session.Session).HasTakes
	return []*Command{
		{ID: "take.make", Title: "Make a take of the passage", Menu: "Take", Keys: []Stroke{"Alt+m"}, Do: fallible((*session.Session).MakeTake)},
		{ID: "take.rename", Title: "Name the take…", Menu: "Take", Do: form(FormTakeName)},
		{ID: "take.list", Title: "Takes of the passage…", Menu: "Take", Keys: []Stroke{"Alt+Shift+m"}, Do: form(FormTakes)},
		{ID: "take.next", Title: "Next take", Menu: "Take", Keys: []Stroke{"Alt+t"}, Applies: has, Do: fallible(func(s *session.Session) error { return s.StepTake(1) })},
		{ID: "take.previous", Title: "Previous take", Menu: "Take", Keys: []Stroke{"Alt+Shift+t"}, Applies: has, Do: fallible(func(s *session.Session) error { return s.StepTake(-1) })},
		{ID: "take.compare", Title: "Compare this take with the next by ear, or stop", Menu: "Take", Keys: []Stroke{"Alt+c"}, Applies: has, Do: fallible((*session.Session).CompareTakes)},
		{ID: "take.changeover", Title: "Change over to the other of two compared takes", Menu: "Take", Keys: []Stroke{"Alt+x"}, Applies: (*session.Session).IsComparing, Do: fallible((*session.Session).ChangeOver)},
		{ID: "take.surprise", Title: "Surprise me with a take", Menu: "Take", Keys: []Stroke{"Alt+s"}, Do: fallible((*session.Session).Surprise)},
		{ID: "take.proposals", Title: "Proposals for the passage, heard before they are kept…", Menu: "Take", Keys: []Stroke{"Alt+Shift+s"}, Do: form(FormSurprise)},
		{ID: "take.delete", Title: "Delete the take", Menu: "Take", Applies: has, Do: fallible((*session.Session).DropTake)},
	}
}

// treatmentCommands set how the current passage is harmonised.
func treatmentCommands() []*Command {
	treatment := func(s *session.Session) project.Treatment { return s.Passage().Treatment }
	var list []*Command
	for _, b := range project.Borrows {
		list = append(list, choose("Borrow", "borrow."+b.String(), session.BorrowName(b),
			func(s *session.Session) error { return s.ChangeTreatment(func(t *project.Treatment) { t.Borrow = b }) },
			func(s *session.Session) bool { return treatment(s).Borrow != b }))
	}
	for _, d := range project.DominantColours {
		list = append(list, choose("Dominants", "dominants."+d.String(), session.ColourName(d),
			func(s *session.Session) error {
				return s.ChangeTreatment(func(t *project.Treatment) { t.Dominants = d })
			},
			func(s *session.Session) bool { return treatment(s).Dominants != d }))
	}
	for _, l := range project.Leanings {
		list = append(list, choose("Lean", "lean."+l.String(), session.LeaningName(l),
			func(s *session.Session) error { return s.ChangeTreatment(func(t *project.Treatment) { t.Leaning = l }) },
			func(s *session.Session) bool { return treatment(s).Leaning != l }))
	}
	for _, f := range theory.Sixths {
		one := project.FamiliesOf(f)
		list = append(list,
			choose("Families", "family.prefer."+idWord(f), "prefer "+f.String(),
				func(s *session.Session) error { return s.SetFamily(f, true, false) },
				func(s *session.Session) bool { return treatment(s).Prefer&one == 0 }),
			choose("Families", "family.forbid."+idWord(f), "forbid "+f.String(),
				func(s *session.Session) error { return s.SetFamily(f, false, true) },
				func(s *session.Session) bool { return treatment(s).Forbid&one == 0 }),
			choose("Families", "family.free."+idWord(f), f.String()+" as it comes",
				func(s *session.Session) error { return s.SetFamily(f, false, false) },
				func(s *session.Session) bool { return (treatment(s).Prefer|treatment(s).Forbid)&one != 0 }))
	}
	for _, w := range project.ReachWeights {
		list = append(list, choose("Reach counts", "reachcounts."+w.String(), session.ReachWeightName(w),
			func(s *session.Session) error { return s.ChangeTreatment(func(t *project.Treatment) { t.Reach = w }) },
			func(s *session.Session) bool { return treatment(s).Reach != w }))
	}
	return append(append(list, rangeCommands()...), treatmentToggles()...)
}

// rangeCommands move the ends of the range of leads that get blocks by a
// semitone.
func rangeCommands() []*Command {
	const menu = "Range of blocks"
	move := func(id, title string, low, high int) *Command {
		return &Command{ID: "range." + id, Title: menu + ": " + title, Menu: menu, Do: fallible(func(s *session.Session) error { return s.MoveBlockRange(low, high) })}
	}
	return []*Command{
		move("lowup", "lowest lead a semitone higher", 1, 0), move("lowdown", "lowest lead a semitone lower", -1, 0),
		move("highup", "highest lead a semitone higher", 0, 1), move("highdown", "highest lead a semitone lower", 0, -1),
		{ID: "range.usual", Title: menu + ": as usual", Menu: menu, Do: fallible(func(s *session.Session) error { return s.SetBlockRange(0, 0) })},
	}
}

func treatmentToggles() []*Command {
	toggle := func(id, title string, flag func(*project.Treatment) *bool) *Command {
		return &Command{ID: "passage." + id, Title: title, Menu: "Treatment", On: func(s *session.Session) bool { t := s.Passage().Treatment; return *flag(&t) }, Do: fallible(func(s *session.Session) error {
			return s.ChangeTreatment(func(t *project.Treatment) { *flag(t) = !*flag(t) })
		})}
	}
	return []*Command{
		toggle("fullruns", "Whole blocks in fast runs, or not", func(t *project.Treatment) *bool { return &t.FullRuns }),
		toggle("moveinner", "Move inner voices under held notes, or not", func(t *project.Treatment) *bool { return &t.MoveInner }),
		toggle("alternate", "Alternate home and away on repeated notes, or not", func(t *project.Treatment) *bool { return &t.AlternateRepeats }),
		toggle("climax", "Open the voicing at the climax, or not", func(t *project.Treatment) *bool { return &t.OpenAtClimax }),
	}
}

// idWord writes a family for an ID: "dominant-flat-five".
func idWord(f theory.Sixth) string { return idPlain(f.String()) }

// idPlain writes words for an ID.
func idPlain(s string) string { return strings.ReplaceAll(s, " ", "-") }
