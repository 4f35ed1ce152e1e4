package command

import (
	"strconv"

	"organbook/internal/ui/session"
)

// fingerCommands give keys of the bench's note fingers of the user's own, which
// the rest is fingered around.
func fingerCommands() []*Command {
	has, own := (*session.Session).HasFingerKeys, (*session.Session).HasOwnFingers
	list := []*Command{
		{ID: "finger.next", Title: "Finger: next key down", Menu: "Finger", Keys: []Stroke{"f"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.PickFinger(s.PickedFinger() + 1) })},
		{ID: "finger.previous", Title: "Finger: next key up", Menu: "Finger", Keys: []Stroke{"Shift+f"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.PickFinger(s.PickedFinger() - 1) })},
	}
	for finger, name := range []string{"the program's choice", "thumb (1)", "2", "3", "4", "little finger (5)"} {
		applies := has
		if finger == 0 {
			applies = (*session.Session).HasPickedOwn
		}
		list = append(list, &Command{ID: "finger." + strconv.Itoa(finger), Title: "Finger: " + name, Menu: "Finger",
			Keys: []Stroke{Stroke(strconv.Itoa(finger))}, In: Bench, Applies: applies,
			Do: fallible(func(s *session.Session) error { return s.SetFinger(finger) })})
	}
	return append(list, &Command{ID: "finger.clear", Title: "Finger: the program's choice on all keys of the note", Menu: "Finger", Applies: own, Do: fallible((*session.Session).ClearFingers)})
}
