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
		{ID: "play.loop", Title: "Loop the selected bars, or not", Menu: "Play", Keys: []Stroke{"l"}, On: func(s *session.Session) bool { _, _, on := s.Loop(); return on }, Do: fallible((*session.Session).ToggleLoop)},
		{ID: "play.looppassage", Title: "Loop the passage", Menu: "Play", Keys: []Stroke{"Alt+l"}, Do: fallible((*session.Session).LoopPassage)},
		{ID: "play.countin", Title: "Count-in: one bar, two, or none", Menu: "Play", Keys: []Stroke{"i"}, On: func(s *session.Session) bool { return s.CountIn() > 0 }, Do: quiet((*session.Session).ChangeCountIn)},
		{ID: "play.click", Title: "Click, or not", Menu: "Play", Keys: []Stroke{"k"}, On: (*session.Session).Click, Do: quiet((*session.Session).ToggleClick)},
		{ID: "play.clicklouder", Title: "Click louder", Menu: "Play", Do: quiet(func(s *session.Session) { s.ChangeClickLevel(3) })},
		{ID: "play.clicksofter", Title: "Click softer", Menu: "Play", Do: quiet(func(s *session.Session) { s.ChangeClickLevel(-3) })},
		{ID: "play.slower", Title: "Slower by 5 %", Menu: "Tempo", Keys: []Stroke{","}, Do: fallible(func(s *session.Session) error { return s.ChangeTempoScale(-0.05) })},
		{ID: "play.faster", Title: "Faster by 5 %", Menu: "Tempo", Keys: []Stroke{";"}, Do: fallible(func(s *session.Session) error { return s.ChangeTempoScale(0.05) })},
		{ID: "play.tempo", Title: "Written tempo again", Menu: "Tempo", Do: fallible(func(s *session.Session) error { return s.SetTempoScale(1) })},
		{ID: "play.ramp", Title: "Tempo ramp over the loop, or not", Menu: "Tempo", Keys: []Stroke{"Alt+,"}, On: func(s *session.Session) bool { return s.Ramp().On }, Do: fallible((*session.Session).ToggleRamp)},
		{ID: "play.rampform", Title: "Tempo ramp: from, step and to…", Menu: "Tempo", Keys: []Stroke{"Alt+;"}, Do: form(FormRamp)},
		{ID: "play.louder", Title: "Louder", Menu: "Play", Keys: []Stroke{"Alt+="}, Do: quiet(func(s *session.Session) { s.ChangeLevel(1) })},
		{ID: "play.softer", Title: "Softer", Menu: "Play", Keys: []Stroke{"Alt+-"}, Do: quiet(func(s *session.Session) { s.ChangeLevel(-1) })},
	}
	for _, l := range playedLayers {
		list = append(list, &Command{ID: "mute." + l.String(), Title: "Mute or hear: " + l.String(), Menu: "Layers",
			Do: fallible(func(s *session.Session) error { return s.ToggleMute(l) })},
			&Command{ID: "alone." + l.String(), Title: "Hear alone, or as before: " + l.String(), Menu: "Layers",
				Do: fallible(func(s *session.Session) error { return s.HearAlone(l) })})
	}
	for _, b := range []struct {
		id, title string
		choice    Buffers
	}{
		{"automatic", "Sound buffer: automatic", BuffersAutomatic},
		{"shortest", "Sound buffer: shortest, 4 ms", BuffersShortest}, {"short", "Sound buffer: short, 10 ms", BuffersShort},
		{"usual", "Sound buffer: usual, 30 ms", BuffersUsual}, {"safe", "Sound buffer: safe, 60 ms", BuffersSafe},
	} {
		list = append(list, &Command{ID: "buffers." + b.id, Title: b.title, Menu: "Sound buffer",
			Do: front(func(f Frontend) { f.SetBuffers(b.choice) })})
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
		{ID: "view.bigger", Title: "Everything bigger", Menu: "View", Keys: []Stroke{"F8"}, Do: front(func(f Frontend) { f.Scale(1) })},
		{ID: "view.smaller", Title: "Everything smaller", Menu: "View", Keys: []Stroke{"F7"}, Do: front(func(f Frontend) { f.Scale(-1) })},
		{ID: "view.usual", Title: "Everything at its usual size", Menu: "View", Do: front(func(f Frontend) { f.Scale(0) })},
		{ID: "view.bench", Title: "Fold or unfold the bench", Menu: "View", Keys: []Stroke{"F3"}, Do: front(func(f Frontend) { f.Fold(Bench) })},
		{ID: "view.console", Title: "Fold or unfold the console", Menu: "View", Keys: []Stroke{"F4"}, Do: front(func(f Frontend) { f.Fold(Console) })},
		{ID: "view.dark", Title: "Colours: dark", Menu: "View", Keys: []Stroke{"Ctrl+Shift+d"}, Do: front(func(f Frontend) { f.SetTheme(ThemeDark) })},
		{ID: "view.light", Title: "Colours: light", Menu: "View", Keys: []Stroke{"Ctrl+Shift+l"}, Do: front(func(f Frontend) { f.SetTheme(ThemeLight) })},
		{ID: "view.system", Title: "Colours: as the system", Menu: "View", Do: front(func(f Frontend) { f.SetTheme(ThemeOfSystem) })},
		{ID: "view.motion", Title: "Less motion: the cursor jumps from beat to beat, or not", Menu: "View", Do: front(Frontend.ToggleMotion)},
		{ID: "language.system", Title: "Language: as the system", Menu: "Language", Do: front(func(f Frontend) { f.SetLanguage("") })},
		{ID: "language.en", Title: "Language: English", Menu: "Language", Do: front(func(f Frontend) { f.SetLanguage("en") })},
		{ID: "language.de", Title: "Language: Deutsch", Menu: "Language", Do: front(func(f Frontend) { f.SetLanguage("de") })},
		{ID: "help.commands", Title: "List all commands", Menu: "Help", Keys: []Stroke{"Ctrl+Space", "F2"}, Do: front(Frontend.ListCommands)},
		{ID: "help.guide", Title: "Handbook and keys", Menu: "Help", Keys: []Stroke{"F1"}, Do: front(Frontend.Help)},
	}
}
