package command

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

// effectCommands set what the instrument does beside its drawbars.
func effectCommands() []*Command {
	var list []*Command
	effects := func(s *session.Session) project.Effects { return s.Heard().Registration.Effects }
	for _, p := range project.AccentPitches {
		list = append(list, choose("Accent", "accent."+p.String(), p.String(),
			func(s *session.Session) error { return s.ChangeAccent(func(a *project.Accent) { a.Pitch = p }) },
			func(s *session.Session) bool { return effects(s).Accent.Pitch != p }))
	}
	struck := func(s *session.Session) bool { return effects(s).Accent.Pitch != project.NoAccent }
	list = append(list,
		&Command{ID: "accent.loud", Title: "Accent: loud, or soft", Menu: "Accent", Applies: struck,
			On: func(s *session.Session) bool { return effects(s).Accent.Loud },
			Do: fallible(func(s *session.Session) error {
				return s.ChangeAccent(func(a *project.Accent) { a.Loud = !a.Loud })
			})},
		&Command{ID: "accent.long", Title: "Accent: long, or short", Menu: "Accent", Applies: struck,
			On: func(s *session.Session) bool { return effects(s).Accent.Long },
			Do: fallible(func(s *session.Session) error {
				return s.ChangeAccent(func(a *project.Accent) { a.Long = !a.Long })
			})})
	for _, d := range []arrange.Division{arrange.Upper, arrange.Lower, arrange.Pedal} {
		for _, v := range project.Vibratos {
			list = append(list, choose("Vibrato, "+d.String(), "vibrato."+d.String()+"."+v.String(), words.Vibrato(v),
				func(s *session.Session) error { return s.SetVibrato(d, v) },
				func(s *session.Session) bool { return effects(s).Vibrato[d] != v }))
		}
	}
	key := func(id, title string, k Stroke, do func(*session.Session) error) *Command {
		return &Command{ID: "console." + id, Title: title, Menu: "Console", Keys: []Stroke{k}, In: Console, Do: fallible(do)}
	}
	return append(append(list, toneCommands()...),
		&Command{ID: "console.effects", Title: "Effects beside the drawbars, or not", Menu: "Console", Keys: []Stroke{"e"}, In: Console,
			Do: front(Frontend.ToggleEffects)},
		key("accent", "Struck accent: next", "a", (*session.Session).NextAccent),
		key("vibrato", "Vibrato of the drawbar's division: next", "v", func(s *session.Session) error {
			i, ok := s.Drawbar()
			if !ok {
				i = 0 // an effect has the keyboard
			}
			d, _ := session.DrawbarPlace(i)
			return s.NextVibrato(d)
		}),
		key("drivemore", "More drive", ">", func(s *session.Session) error { return s.ChangeDrive(0.05) }),
		key("driveless", "Less drive", "<", func(s *session.Session) error { return s.ChangeDrive(-0.05) }),
		key("roommore", "More room", "]", func(s *session.Session) error { return s.ChangeRoom(0.05) }),
		key("roomless", "Less room", "[", func(s *session.Session) error { return s.ChangeRoom(-0.05) }))
}

// toneCommands turn the parts of the chart's tone, which have no keys of their
// own, one step up or down.
func toneCommands() []*Command {
	var list []*Command
	for i := session.Effects; i < len(session.Controls); i++ {
		c := &session.Controls[i]
		turn := func(id, title string, by int) *Command {
			return &Command{ID: c.ID + "." + id, Title: title, Menu: "Instrument",
				Do: fallible(func(s *session.Session) error { s.PickControl(i); return s.Turn(c, by) })}
		}
		list = append(list, turn("more", toneName(c)+": more", 1), turn("less", toneName(c)+": less", -1))
	}
	return append(list, &Command{ID: "tone.usual", Title: "Instrument as usual", Menu: "Instrument",
		Applies: (*session.Session).HasTone, Do: fallible((*session.Session).ResetTone)})
}

// toneName is a control's name where its neighbours do not say what it is of.
func toneName(c *session.Control) string {
	switch c.ID {
	case "tone.angle":
		return "Angle of the microphones"
	case "tone.distance":
		return "Distance of the microphones"
	case "tone.decay":
		return "Decay of the room"
	case "tone.damping":
		return "Damping of the room"
	}
	return c.Name
}
