package command

import (
	"strconv"

	"organbook/internal/ui/session"
)

// reachCommands walk through what cannot or should not be played, and mend it.
func reachCommands() []*Command {
	has := (*session.Session).HasFindings
	list := []*Command{
		{ID: "reach.next", Title: "Next finding", Menu: "Reach", Keys: []Stroke{"Alt+n"}, Applies: has, Do: quiet(func(s *session.Session) { s.StepFinding(1) })},
		{ID: "reach.previous", Title: "Previous finding", Menu: "Reach", Keys: []Stroke{"Alt+Shift+n"}, Applies: has, Do: quiet(func(s *session.Session) { s.StepFinding(-1) })},
		{ID: "reach.down", Title: "Down the findings", Menu: "Reach", Keys: []Stroke{"Down"}, In: Reach, Applies: has, Do: quiet(func(s *session.Session) { s.StepFinding(1) })},
		{ID: "reach.up", Title: "Up the findings", Menu: "Reach", Keys: []Stroke{"Up"}, In: Reach, Applies: has, Do: quiet(func(s *session.Session) { s.StepFinding(-1) })},
		{ID: "reach.apply", Title: "Take the first way out of the finding", Menu: "Reach", Keys: []Stroke{"Enter"}, In: Reach, Applies: onFinding, Do: fallible((*session.Session).ApplyFirstRemedy)},
	}
	for k := 1; k <= 3; k++ {
		digit := strconv.Itoa(k)
		list = append(list, &Command{ID: "reach.apply" + digit, Title: "Take way out " + digit + " of the finding", Menu: "Reach",
			Keys: []Stroke{Stroke(digit)}, In: Reach, Applies: func(s *session.Session) bool { return hasWay(s, k-1) },
			Do: fallible(func(s *session.Session) error { return s.ApplyRemedy(s.Finding(), k-1) })})
	}
	list = append(list,
		&Command{ID: "reach.player", Title: "Player: hands, feet, touch and speed…", Menu: "Reach", Keys: []Stroke{"Alt+h"}, Do: form(FormPlayer)},
		&Command{ID: "reach.console", Title: "Console: compasses and free limbs…", Menu: "Reach", Keys: []Stroke{"Alt+i"}, Do: form(FormConsole)},
		&Command{ID: "reach.usualplayer", Title: "Give up the chart's own player", Menu: "Reach", Applies: (*session.Session).HasOwnPlayer, Do: fallible((*session.Session).DropOwnPlayer)},
	)
	return list
}

func onFinding(s *session.Session) bool { return s.Finding() >= 0 }

// hasWay reports whether the finding that was walked to has way out k.
func hasWay(s *session.Session, k int) bool {
	if s.Finding() < 0 {
		return false
	}
	list, known := s.KnownRemedies(s.Finding())
	return known && k < len(list)
}
