package command

import (
	"organbook/internal/project"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

func passageCommands() []*Command {
	list := []*Command{
		{ID: "passage.split", Title: "Start a new passage at this bar", Menu: "Passage", Keys: []Stroke{"Ctrl+Enter"}, Applies: (*session.Session).CanSplitPassage, Do: fallible((*session.Session).SplitPassage)},
		{ID: "passage.make", Title: "Make a passage of the selected bars", Menu: "Passage", Keys: []Stroke{"Ctrl+Shift+Enter"}, Applies: (*session.Session).CanMakePassage, Do: fallible((*session.Session).MakePassage)},
		{ID: "passage.join", Title: "Join the passage to the one before", Menu: "Passage", Keys: []Stroke{"Ctrl+j"}, Applies: (*session.Session).CanJoinPassage, Do: fallible((*session.Session).JoinPassage)},
		{ID: "passage.rename", Title: "Rename the passage…", Menu: "Passage", Keys: []Stroke{"Ctrl+r"}, Do: form(FormPassageName)},
		{ID: "passage.treatment", Title: "Passage form: treatment, hands, sound, takes", Menu: "Passage", Keys: []Stroke{"Ctrl+e"}, Do: form(FormTreatment)},
		{ID: "passage.registration", Title: "Registration…", Menu: "Passage", Keys: []Stroke{"Ctrl+g"}, Do: form(FormRegistration)},
		{ID: "passage.twofive", Title: "Play a ii–V as V, or not", Menu: "Passage", On: func(s *session.Session) bool { return s.Passage().Treatment.TwoFiveAsFive }, Do: fallible((*session.Session).ToggleTwoFive)},
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
		c := choose("Registration", "registration."+r.Name, r.Name, func(s *session.Session) error { return s.SetRegistration(r) },
			func(s *session.Session) bool { return s.Heard().Registration.Name != r.Name }) // as the console names it
		c.Applies = nil // another key plays it for the passage of the caret
		list = append(list, c)
	}
	list = append(list,
		&Command{ID: "registration.list", Title: "Registrations of your own…", Menu: OwnMenu, Keys: []Stroke{"Alt+Shift+g"}, Do: form(FormRegistrations)},
		&Command{ID: "registration.save", Title: "Save the registration under a name…", Menu: OwnMenu, Keys: []Stroke{"Ctrl+Shift+g"}, Do: form(FormRegistrationName)})
	for _, r := range project.RotarySpeeds {
		list = append(list, choose("Rotary speaker", "rotary."+r.String(), r.String(), func(s *session.Session) error { return s.SetRotary(r) },
			func(s *session.Session) bool { return s.Heard().Registration.Rotary != r }))
	}
	return append(append(list, consoleCommands()...), effectCommands()...)
}

// choose is a command for one of several choices of a menu; differs reports
// that another one is made now.
func choose(menu, id, name string, do func(*session.Session) error, differs func(*session.Session) bool) *Command {
	return &Command{ID: id, Title: menu + ": " + name, Menu: menu, Applies: differs, On: not(differs), Do: fallible(do)}
}

// not turns a report round.
func not(f func(*session.Session) bool) func(*session.Session) bool {
	return func(s *session.Session) bool { return !f(s) }
}

// consoleCommands work the drawbar or effect that has the keyboard in the console panel.
func consoleCommands() []*Command {
	key := func(id, title string, k Stroke, do func(*session.Session) error) *Command {
		return &Command{ID: "console." + id, Title: title, Menu: "Console", Keys: []Stroke{k}, In: Console, Do: fallible(do)}
	}
	return []*Command{
		key("next", "Next drawbar or effect", "Down", func(s *session.Session) error { s.StepStop(1); return nil }),
		key("previous", "Previous drawbar or effect", "Up", func(s *session.Session) error { s.StepStop(-1); return nil }),
		key("more", "Drawbar out by one, or more of the effect", "Right", func(s *session.Session) error { return s.TurnStop(1) }),
		key("less", "Drawbar in by one, or less of the effect", "Left", func(s *session.Session) error { return s.TurnStop(-1) }),
		key("rotary", "Rotary speaker: next speed", "r", (*session.Session).NextRotary),
		key("swellmore", "Swell open", "+", func(s *session.Session) error { return s.ChangeSwell(0.05) }),
		key("swellless", "Swell closed", "-", func(s *session.Session) error { return s.ChangeSwell(-0.05) }),
		key("swellendmore", "Swell open at the passage's end: it glides there", "Alt+Right", func(s *session.Session) error { return s.ChangeSwellAtEnd(0.05) }),
		key("swellendless", "Swell closed at the passage's end: it glides there", "Alt+Left", func(s *session.Session) error { return s.ChangeSwellAtEnd(-0.05) }),
	}
}

// stripCommands walk along the passages and move their borders.
func stripCommands() []*Command {
	return []*Command{
		{ID: "strip.right", Title: "Go to the next passage", Menu: "Move", Keys: []Stroke{"Right"}, In: Strip, Do: quiet(func(s *session.Session) { s.StepPassage(true) })},
		{ID: "strip.left", Title: "Go to the passage before", Menu: "Move", Keys: []Stroke{"Left"}, In: Strip, Do: quiet(func(s *session.Session) { s.StepPassage(false) })},
		{ID: "strip.later", Title: "Let the passage start a bar later", Menu: "Passage", Keys: []Stroke{"Alt+Right"}, In: Strip, Applies: (*session.Session).CanJoinPassage, Do: fallible(func(s *session.Session) error { return s.ShiftBorder(1) })},
		{ID: "strip.earlier", Title: "Let the passage start a bar earlier", Menu: "Passage", Keys: []Stroke{"Alt+Left"}, In: Strip, Applies: (*session.Session).CanJoinPassage, Do: fallible(func(s *session.Session) error { return s.ShiftBorder(-1) })},
		{ID: "strip.open", Title: "Change the passage", Menu: "Move", Keys: []Stroke{"Enter"}, In: Strip, Do: form(FormTreatment)},
	}
}

// passageSections are the parts of the passage form, each with what it holds.
var passageSections = [][2]string{
	{"outline", "name, template and bars"}, {"blocks", "voicing, octave and range"}, {"harmony", "families, borrowing and dominants"},
	{"line", "leaning, held and repeated notes, runs"}, {"hands", "hand plan, bass and reach"}, {"sound", "registration and rotary speaker"},
	{"takes", "other arrangements of the same bars"},
}

// PassageSections names the parts of the passage form in order.
func PassageSections() []string {
	names := make([]string, len(passageSections))
	for i, x := range passageSections {
		names[i] = x[0]
	}
	return names
}

// SectionForm is the form that opens a part of the passage form.
func SectionForm(name string) string { return FormTreatment + " " + name }

// formCommands open the passage form at its parts and turn from one to the next.
func formCommands() []*Command {
	var list []*Command
	for _, x := range passageSections {
		list = append(list, &Command{ID: "form." + x[0], Title: "Passage form: " + x[0] + " (" + x[1] + ")", Menu: "Passage form", Do: form(SectionForm(x[0]))})
	}
	return append(list,
		&Command{ID: "form.next", Title: "Next part of the passage form", Menu: "Passage form", Keys: []Stroke{"PageDown"}, In: PassageForm, Do: front(func(f Frontend) { f.TurnForm(1) })},
		&Command{ID: "form.previous", Title: "Part of the passage form before", Menu: "Passage form", Keys: []Stroke{"PageUp"}, In: PassageForm, Do: front(func(f Frontend) { f.TurnForm(-1) })})
}

// templateCommands set a passage up as one of the built-in templates says, and
// open the list with the user's own.
func templateCommands() []*Command {
	var list []*Command
	for _, t := range project.Templates() {
		list = append(list, choose("Template", "template."+idPlain(t.Name), t.Name,
			func(s *session.Session) error { return s.ApplyTemplate(t) },
			func(s *session.Session) bool { return !t.Fits(s.Passage()) }))
	}
	return append(list,
		&Command{ID: "template.list", Title: "Templates, for the passage or the selected bars…", Menu: "Template", Keys: []Stroke{"Alt+Shift+e"}, Do: form(FormTemplates)},
		&Command{ID: "template.save", Title: "Save the passage as a template…", Menu: "Template", Do: form(FormTemplateName)})
}
