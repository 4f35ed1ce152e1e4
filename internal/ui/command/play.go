package command

import (
	"organbook/internal/arrange"
	"organbook/internal/ui/session"
)

// playedLayers are the layers that can be muted, in menu order.
var playedLayers = []arrange.Layer{arrange.LayerLead, arrange.LayerBlock, arrange.LayerDouble, arrange.LayerComp, arrange.LayerBass}

func playCommands() []*Command {
	list := []*Command{
		{ID: "play.toggle", Title: "Play from the selection, or stop", Menu: "Play", Keys: []Stroke{"p"}, Do: fallible((*session.Session).TogglePlay)},
		{ID: "play.start", Title: "Play from the start", Menu: "Play", Keys: []Stroke{"Alt+p"}, Do: fallible((*session.Session).PlayFromStart)},
		{ID: "play.rewind", Title: "Back to the start", Menu: "Play", Keys: []Stroke{"Alt+Home"}, Do: quiet((*session.Session).Rewind)},
		{ID: "play.loop", Title: "Loop the selected bars, or not", Menu: "Play", Keys: []Stroke{"l"}, Do: fallible((*session.Session).ToggleLoop)},
		{ID: "play.looppassage", Title: "Loop the passage", Menu: "Play", Keys: []Stroke{"Alt+l"}, Do: fallible((*session.Session).LoopPassage)},
		{ID: "play.countin", Title: "Count-in, or not", Menu: "Play", Keys: []Stroke{"i"}, Do: quiet((*session.Session).ToggleCountIn)},
		{ID: "play.click", Title: "Click, or not", Menu: "Play", Keys: []Stroke{"k"}, Do: quiet((*session.Session).ToggleClick)},
		{ID: "play.slower", Title: "Slower by 5 %", Menu: "Play", Keys: []Stroke{","}, Do: fallible(func(s *session.Session) error { return s.ChangeTempoScale(-0.05) })},
		{ID: "play.faster", Title: "Faster by 5 %", Menu: "Play", Keys: []Stroke{";"}, Do: fallible(func(s *session.Session) error { return s.ChangeTempoScale(0.05) })},
		{ID: "play.tempo", Title: "Written tempo again", Menu: "Play", Do: fallible(func(s *session.Session) error { return s.SetTempoScale(1) })},
		{ID: "play.louder", Title: "Louder", Menu: "Play", Keys: []Stroke{"Alt+="}, Do: quiet(func(s *session.Session) { s.ChangeLevel(1) })},
		{ID: "play.softer", Title: "Softer", Menu: "Play", Keys: []Stroke{"Alt+-"}, Do: quiet(func(s *session.Session) { s.ChangeLevel(-1) })},
	}
	for _, l := range playedLayers {
		list = append(list, &Command{ID: "mute." + l.String(), Title: "Mute or hear: " + l.String(), Menu: "Layers",
			Do: fallible(func(s *session.Session) error { return s.ToggleMute(l) })})
	}
	return append(list, &Command{ID: "mute.none", Title: "Hear all layers", Menu: "Layers", Do: fallible((*session.Session).MuteNone)})
}

func viewCommands() []*Command {
	zoom := func(id, title string, k Stroke, columns, rows int) *Command {
		return &Command{ID: "view." + id, Title: title, Menu: "View", Keys: []Stroke{k}, Do: front(func(f Frontend) { f.Zoom(columns, rows) })}
	}
	return []*Command{
		zoom("wider", "Wider bars", "Ctrl+=", 1, 0),
		zoom("narrower", "Narrower bars", "Ctrl+-", -1, 0),
		zoom("taller", "Taller rows", "Ctrl+Alt+=", 0, 1),
		zoom("flatter", "Flatter rows", "Ctrl+Alt+-", 0, -1),
		zoom("normal", "Normal size", "Ctrl+0", 0, 0),
		{ID: "view.bench", Title: "Fold or unfold the bench", Menu: "View", Keys: []Stroke{"F3"}, Do: front(func(f Frontend) { f.Fold(Bench) })},
		{ID: "view.console", Title: "Fold or unfold the console", Menu: "View", Keys: []Stroke{"F4"}, Do: front(func(f Frontend) { f.Fold(Console) })},
		{ID: "view.dark", Title: "Colours: dark", Menu: "View", Keys: []Stroke{"Ctrl+Shift+d"}, Do: front(func(f Frontend) { f.SetTheme(ThemeDark) })},
		{ID: "view.light", Title: "Colours: light", Menu: "View", Keys: []Stroke{"Ctrl+Shift+l"}, Do: front(func(f Frontend) { f.SetTheme(ThemeLight) })},
		{ID: "view.system", Title: "Colours: as the system", Menu: "View", Do: front(func(f Frontend) { f.SetTheme(ThemeOfSystem) })},
		{ID: "help.commands", Title: "List all commands", Menu: "Help", Keys: []Stroke{"Ctrl+Space", "F2"}, Do: front(Frontend.ListCommands)},
		{ID: "help.guide", Title: "Handbook and keys", Menu: "Help", Keys: []Stroke{"F1"}, Do: front(Frontend.Help)},
	}
}
