package command

import (
	"organbook/internal/project"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

func passageCommands() []*Command {
	list := []*Command{
		{ID: "passage.split", Title: "Start a new passage at this bar", Menu: "Passage", Keys: []Stroke{"Ctrl+Enter"}, Applies: (*session.Session).CanSplitPassage, Do: fallible((*session.Session).SplitPassage)},
		{ID: "passage.join", Title: "Join the passage to the one before", Menu: "Passage", Keys: []Stroke{"Ctrl+j"}, Applies: (*session.Session).CanJoinPassage, Do: fallible((*session.Session).JoinPassage)},
		{ID: "passage.rename", Title: "Rename the passage…", Menu: "Passage", Keys: []Stroke{"Ctrl+r"}, Do: form(FormPassageName)},
		{ID: "passage.treatment", Title: "Treatment and hand plan…", Menu: "Passage", Keys: []Stroke{"Ctrl+e"}, Do: form(FormTreatment)},
		{ID: "passage.registration", Title: "Registration…", Menu: "Passage", Keys: []Stroke{"Ctrl+g"}, Do: form(FormRegistration)},
		{ID: "passage.twofive", Title: "Play a ii–V as V, or not", Menu: "Passage", Do: fallible((*session.Session).ToggleTwoFive)},
		{ID: "passage.octaveup", Title: "Lead an octave higher", Menu: "Passage", Do: fallible(func(s *session.Session) error { return s.ShiftLead(1) })},
		{ID: "passage.octavedown", Title: "Lead an octave lower", Menu: "Passage", Do: fallible(func(s *session.Session) error { return s.ShiftLead(-1) })},
	}
	for _, v := range session.Voicings {
		list = append(list, choose("Voicing", "voicing."+v.String(), session.VoicingName(v), func(s *session.Session) error { return s.SetVoicing(v) },
			func(s *session.Session) bool { return s.Passage().Treatment.Voicing != v }))
	}
	for _, p := range project.HandPlans {
		list = append(list, choose("Hand plan", "plan."+p.String(), session.PlanName(p), func(s *session.Session) error { return s.SetPlan(p) },
			func(s *session.Session) bool { return s.Passage().Plan != p }))
	}
	for _, b := range project.BassStyles {
		list = append(list, choose("Bass", "bass."+b.String(), words.Bass(b), func(s *session.Session) error { return s.SetBass(b) },
			func(s *session.Session) bool { return s.Passage().Bass != b }))
	}
	for _, r := range project.Registrations() {
		list = append(list, choose("Registration", "registration."+r.Name, r.Name, func(s *session.Session) error { return s.SetRegistration(r) }, nil))
	}
	for _, r := range project.RotarySpeeds {
		list = append(list, choose("Rotary speaker", "rotary."+r.String(), r.String(), func(s *session.Session) error { return s.SetRotary(r) },
			func(s *session.Session) bool { return s.Heard().Registration.Rotary != r }))
	}
	return append(append(list, consoleCommands()...), effectCommands()...)
}

func choose(menu, id, name string, do func(*session.Session) error, applies func(*session.Session) bool) *Command {
	return &Command{ID: id, Title: menu + ": " + name, Menu: menu, Applies: applies, Do: fallible(do)}
}

// consoleCommands work the drawbar that has the keyboard in the console panel.
func consoleCommands() []*Command {
	key := func(id, title string, k Stroke, do func(*session.Session) error) *Command {
		return &Command{ID: "console." + id, Title: title, Menu: "Console", Keys: []Stroke{k}, In: Console, Do: fallible(do)}
	}
	return []*Command{
		key("next", "Next drawbar", "Down", func(s *session.Session) error { s.StepDrawbar(1); return nil }),
		key("previous", "Previous drawbar", "Up", func(s *session.Session) error { s.StepDrawbar(-1); return nil }),
		key("more", "Drawbar out by one", "Right", func(s *session.Session) error { return s.ChangeDrawbar(1) }),
		key("less", "Drawbar in by one", "Left", func(s *session.Session) error { return s.ChangeDrawbar(-1) }),
		key("rotary", "Rotary speaker: next speed", "r", (*session.Session).NextRotary),
		key("swellmore", "Swell open", "+", func(s *session.Session) error { return s.ChangeSwell(0.05) }),
		key("swellless", "Swell closed", "-", func(s *session.Session) error { return s.ChangeSwell(-0.05) }),
	}
}

func benchCommands() []*Command {
	has := (*session.Session).HasCurrent
	return []*Command{
		{ID: "bench.next", Title: "Next alternative, heard", Menu: "Bench", Keys: []Stroke{"Ctrl+Down"}, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(1) })},
		{ID: "bench.previous", Title: "Previous alternative, heard", Menu: "Bench", Keys: []Stroke{"Ctrl+Up"}, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(-1) })},
		{ID: "bench.down", Title: "Down the alternatives", Menu: "Bench", Keys: []Stroke{"Down"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(1) })},
		{ID: "bench.up", Title: "Up the alternatives", Menu: "Bench", Keys: []Stroke{"Up"}, In: Bench, Applies: has, Do: quiet(func(s *session.Session) { s.WalkAlternatives(-1) })},
		{ID: "bench.pin", Title: "Pin the alternative", Menu: "Bench", Keys: []Stroke{"Enter"}, In: Bench, Applies: has, Do: fallible((*session.Session).Pin)},
		{ID: "bench.pinhere", Title: "Pin: the whole block", Menu: "Pin", Keys: []Stroke{"Ctrl+p"}, Applies: has, Do: fallible((*session.Session).Pin)},
		{ID: "bench.pinvoicing", Title: "Pin: only the voicing", Menu: "Pin", Keys: []Stroke{"v"}, In: Bench, Applies: has, Do: fallible((*session.Session).PinVoicing)},
		{ID: "bench.pintechnique", Title: "Pin: only the technique", Menu: "Pin", Keys: []Stroke{"t"}, In: Bench, Applies: has, Do: fallible((*session.Session).PinTechnique)},
		{ID: "bench.unpin", Title: "Take the pin out", Menu: "Bench", Keys: []Stroke{"Delete", "Backspace"}, In: Bench, Applies: (*session.Session).IsPinned, Do: fallible((*session.Session).Unpin)},
		{ID: "bench.unpinhere", Title: "Pin: take it out", Menu: "Pin", Keys: []Stroke{"Ctrl+Shift+p"}, Applies: (*session.Session).IsPinned, Do: fallible((*session.Session).Unpin)},
		{ID: "bench.costs", Title: "Costs of the alternative, or not", Menu: "Bench", Keys: []Stroke{"w"}, In: Bench, Do: front(Frontend.ToggleCosts)},
		{ID: "bench.hear", Title: "Hear the block", Menu: "Bench", Keys: []Stroke{"h"}, Applies: has, Do: quiet((*session.Session).HearCurrent)},
		{ID: "bench.left", Title: "Bench to the previous note", Menu: "Bench", Keys: []Stroke{"Left"}, In: Bench, Do: quiet(func(s *session.Session) { s.StepNote(-1) })},
		{ID: "bench.right", Title: "Bench to the next note", Menu: "Bench", Keys: []Stroke{"Right"}, In: Bench, Do: quiet(func(s *session.Session) { s.StepNote(1) })},
		{ID: "strip.right", Title: "Go to the next passage", Menu: "Move", Keys: []Stroke{"Right"}, In: Strip, Do: quiet(func(s *session.Session) { s.StepPassage(true) })},
		{ID: "strip.left", Title: "Go to the passage before", Menu: "Move", Keys: []Stroke{"Left"}, In: Strip, Do: quiet(func(s *session.Session) { s.StepPassage(false) })},
		{ID: "strip.later", Title: "Let the passage start a bar later", Menu: "Passage", Keys: []Stroke{"Alt+Right"}, In: Strip, Applies: (*session.Session).CanJoinPassage, Do: fallible(func(s *session.Session) error { return s.ShiftBorder(1) })},
		{ID: "strip.earlier", Title: "Let the passage start a bar earlier", Menu: "Passage", Keys: []Stroke{"Alt+Left"}, In: Strip, Applies: (*session.Session).CanJoinPassage, Do: fallible(func(s *session.Session) error { return s.ShiftBorder(-1) })},
		{ID: "strip.open", Title: "Change the passage", Menu: "Move", Keys: []Stroke{"Enter"}, In: Strip, Do: form(FormTreatment)},
	}
}
