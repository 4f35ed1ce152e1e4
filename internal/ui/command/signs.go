package command

import (
	"organbook/internal/project"
	"organbook/internal/ui/session"
)

// jumpTitles are the jumps in the order of the menu, as print writes them.
var jumpTitles = []struct {
	jump      project.Jump
	id, title string
}{
	{project.DaCapo, "dc", "D.C."}, {project.DaCapoAlFine, "dcfine", "D.C. al Fine"}, {project.DaCapoAlCoda, "dccoda", "D.C. al Coda"},
	{project.DalSegno, "ds", "D.S."}, {project.DalSegnoAlFine, "dsfine", "D.S. al Fine"}, {project.DalSegnoAlCoda, "dscoda", "D.S. al Coda"},
}

// signCommands set and clear the signs of a form that is not played straight
// through: the marks that are jumped to stand at the first selected bar, those
// that are jumped from at the last.
func signCommands() []*Command {
	const menu = "Signs and jumps"
	list := []*Command{
		{ID: "bar.segno", Title: "Segno at the bar, or not", Menu: menu, Do: fallible((*session.Session).ToggleSegno)},
		{ID: "bar.coda", Title: "Coda starts at the bar, or not", Menu: menu, Do: fallible((*session.Session).ToggleCoda)},
		{ID: "bar.tocoda", Title: "To Coda after the bar, or not", Menu: menu, Do: fallible((*session.Session).ToggleToCoda)},
		{ID: "bar.fine", Title: "Fine after the bar, or not", Menu: menu, Do: fallible((*session.Session).ToggleFine)},
	}
	for _, j := range jumpTitles {
		list = append(list, &Command{ID: "jump." + j.id, Title: "Jump after the bar: " + j.title, Menu: menu,
			Do: fallible(func(s *session.Session) error { return s.SetJump(j.jump) })})
	}
	return append(list, &Command{ID: "jump.none", Title: "No jump after the bar", Menu: menu, Applies: (*session.Session).HasJump,
		Do: fallible(func(s *session.Session) error { return s.SetJump(project.NoJump) })})
}
