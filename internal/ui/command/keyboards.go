package command

import (
	"strconv"

	"organbook/internal/perform"
	"organbook/internal/ui/session"
)

// Ports is the part of a Frontend that works the page of MIDI ports.
type Ports interface {
	// WalkPorts goes down the page's lines, or up.
	WalkPorts(by int)
	// ChangePort goes to the next or previous choice of the line.
	ChangePort(by int)
	// ShowChoices lists the choices of the line.
	ShowChoices()
	// LearnPort waits for the key or controller that the line is about.
	LearnPort()
	// ForgetPort takes away what works the line.
	ForgetPort()
	// Silence releases every key, here and outside.
	Silence()
	// ToggleLetters lets the letters of the computer's keyboard play the upper
	// manual, or mean commands again.
	ToggleLetters()
	// LeaveLetters lets letters mean commands again if they play.
	LeaveLetters()
}

// keyboardCommands are about keys that are played: outside through MIDI, drawn
// in the console, or the computer's own.
func keyboardCommands() []*Command {
	const menu = "Keyboards"
	ports := func(f func(Ports)) func(Env) error { return front(func(x Frontend) { f(x) }) }
	list := []*Command{
		{ID: "record.toggle", Title: "Record from this bar, or stop and write it", Menu: menu, Keys: []Stroke{"Alt+r"}, Do: fallible((*session.Session).ToggleRecord)},
		{ID: "record.discard", Title: "Give the recording up, nothing is written", Menu: menu, Applies: (*session.Session).Recording, Do: quiet((*session.Session).DiscardRecording)},
		{ID: "keys.steps", Title: "Step entry: keys write at the caret, or not", Menu: menu, Keys: []Stroke{"Alt+e"}, On: (*session.Session).StepEntry, Do: quiet((*session.Session).ToggleStepEntry)},
		{ID: "keys.letters", Title: "Letters play the upper manual, or not", Menu: menu, Keys: []Stroke{"Alt+k"}, Do: ports(Ports.ToggleLetters)},
		{ID: "keys.silence", Title: "Release every key, here and outside", Menu: menu, Keys: []Stroke{"Ctrl+."}, Do: ports(Ports.Silence)},
		{ID: "midi.down", Title: "Down the MIDI page", Menu: menu, Keys: []Stroke{"Down"}, In: MIDI, Do: ports(func(p Ports) { p.WalkPorts(1) })},
		{ID: "midi.up", Title: "Up the MIDI page", Menu: menu, Keys: []Stroke{"Up"}, In: MIDI, Do: ports(func(p Ports) { p.WalkPorts(-1) })},
		{ID: "midi.next", Title: "MIDI page: next choice of the line", Menu: menu, Keys: []Stroke{"Right"}, In: MIDI, Do: ports(func(p Ports) { p.ChangePort(1) })},
		{ID: "midi.previous", Title: "MIDI page: choice before", Menu: menu, Keys: []Stroke{"Left"}, In: MIDI, Do: ports(func(p Ports) { p.ChangePort(-1) })},
		{ID: "midi.choices", Title: "MIDI page: list the choices of the line", Menu: menu, Keys: []Stroke{"Space"}, In: MIDI, Do: ports(Ports.ShowChoices)},
		{ID: "midi.learn", Title: "MIDI page: learn from what is played next", Menu: menu, Keys: []Stroke{"Enter"}, In: MIDI, Do: ports(Ports.LearnPort)},
		{ID: "midi.forget", Title: "MIDI page: nothing works the line", Menu: menu, Keys: []Stroke{"Delete", "Backspace"}, In: MIDI, Do: ports(Ports.ForgetPort)},
	}
	return append(list, gridCommands()...)
}

// RecordingMenu holds how recordings are written.
const RecordingMenu = "How recordings are written"

// gridCommands choose how recordings are written.
func gridCommands() []*Command {
	const menu = RecordingMenu
	var list []*Command
	set := func(id, title string, change func(*perform.Grid), differs func(perform.Grid) bool) {
		list = append(list, &Command{ID: "record." + id, Title: "Recordings: " + title, Menu: menu,
			Applies: func(s *session.Session) bool { return differs(s.Grid()) },
			On:      func(s *session.Session) bool { return !differs(s.Grid()) },
			Do: fallible(func(s *session.Session) error {
				g := s.Grid()
				change(&g)
				return s.SetGrid(g)
			})})
	}
	for _, v := range session.GridValues {
		set("value."+strconv.Itoa(v), session.GridValueName(v), func(g *perform.Grid) { g.Value = v }, func(g perform.Grid) bool { return g.Value != v })
	}
	for i, name := range session.TripletNames {
		t := perform.Triplets(i)
		set("triplets."+strconv.Itoa(i), name, func(g *perform.Grid) { g.Triplets = t }, func(g perform.Grid) bool { return g.Triplets != t })
	}
	return append(list, addCommand("replace", "replace the melody of their bars", false), addCommand("add", "leave the notes that they do not touch", true))
}

// addCommand chooses whether recordings add to what is there.
func addCommand(id, title string, adds bool) *Command {
	return &Command{ID: "record." + id, Title: "Recordings: " + title, Menu: RecordingMenu,
		Applies: func(s *session.Session) bool { return s.Adds() != adds },
		On:      func(s *session.Session) bool { return s.Adds() == adds },
		Do:      quiet(func(s *session.Session) { s.SetAdds(adds) })}
}
