package ui

import (
	"fmt"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

// chooser is a field to choose one of several values; set makes the choice an
// edit and now reads it from the passage.
func chooser[T comparable](v *passagePage, name, hint string, values []T, word func(T) string, set func(T) error, now func(p project.Passage) T) *formField {
	w := v.b.w
	options := make([]string, len(values))
	for i, x := range values {
		options[i] = word(x)
	}
	c := newPicker(w, options, func(i int) { w.grid.say(set(values[i])) })
	c.got = func() { v.seen(c) }
	return newField(w, name, hint, c, func(p project.Passage) {
		at := -1
		for i, x := range values {
			if x == now(p) {
				at = i
			}
		}
		if other := word(now(p)); at < 0 && c.other != other {
			c.other = other
			c.Refresh()
		}
		c.show(at)
	})
}

// ofTreatment is a chooser of a part of the treatment.
func ofTreatment[T comparable](v *passagePage, name, hint string, values []T, word func(T) string, part func(*project.Treatment) *T) *formField {
	return chooser(v, name, hint, values, word,
		func(x T) error {
			return v.b.w.session.ChangeTreatment(func(t *project.Treatment) { *part(t) = x })
		},
		func(p project.Passage) T { return *part(&p.Treatment) })
}

// switched is a part of the treatment that is on or off.
func (v *passagePage) switched(word, hint string, part func(*project.Treatment) *bool) *formField {
	w := v.b.w
	t := newToggle(w, word, func(on bool) {
		w.grid.say(w.session.ChangeTreatment(func(t *project.Treatment) { *part(t) = on }))
	})
	t.got = func() { v.seen(t) }
	return newField(w, "", hint, t, func(p project.Passage) { t.show(*part(&p.Treatment)) })
}

func (v *passagePage) blocks() []formItem {
	t := func(p project.Passage) *project.Treatment { return &p.Treatment }
	octaves := []int{-2, -1, 0, 1, 2}
	s := v.b.w.session
	return []formItem{
		ofTreatment(v, "Voicing", "How the voices of a block are spread under the lead.", session.Voicings, session.VoicingName,
			func(t *project.Treatment) *theory.Voicing { return &t.Voicing }),
		ofTreatment(v, "Lead", "Plays the melody in another octave; its blocks go along.", octaves, octaveName,
			func(t *project.Treatment) *int { return &t.LeadOctave }),
		chooser(v, "Lowest lead with a block", "A lower lead plays alone or in octaves.", naturals(48, 67), leadName,
			func(k int) error { _, high := t(s.Passage()).BlockRange(); return s.SetBlockRange(k, high) },
			func(p project.Passage) int { low, _ := t(p).BlockRange(); return low }),
		chooser(v, "Highest lead with a block", "A higher lead plays alone or in octaves.", naturals(72, 96), leadName,
			func(k int) error { low, _ := t(s.Passage()).BlockRange(); return s.SetBlockRange(low, k) },
			func(p project.Passage) int { _, high := t(p).BlockRange(); return high }),
		v.switched("opens at the climax", "The voicing may open at the top of a phrase.", func(t *project.Treatment) *bool { return &t.OpenAtClimax }),
	}
}

// naturals lists the white keys upward, both ends included: fine enough for a
// range, and a list that fits the window.
func naturals(low, high int) (out []int) {
	for k := low; k <= high; k++ {
		switch k % 12 {
		case 0, 2, 4, 5, 7, 9, 11:
			out = append(out, k)
		}
	}
	return out
}

// leadName names a key as musicians do, and says which ends are the usual ones.
func leadName(k int) string {
	name := keyName(k)
	if k == project.LowestBlockLead || k == project.HighestBlockLead {
		name += " (as usual)"
	}
	return name
}

// favour is what a passage thinks of a family.
type favour uint8

const (
	asItComes favour = iota
	preferred
	forbidden
)

var favours = []favour{preferred, asItComes, forbidden}

// String returns "preferred", "as it comes" or "forbidden".
func (f favour) String() string { return [...]string{"as it comes", "preferred", "forbidden"}[f] }

func favourOf(t project.Treatment, x theory.Sixth) favour {
	switch {
	case t.Prefer.Has(x):
		return preferred
	case t.Forbid.Has(x):
		return forbidden
	}
	return asItComes
}

func (v *passagePage) harmony() []formItem {
	items := []formItem{
		v.switched("ii–V as V", "Blocks of a ii–V are those of its V; the bass still plays both.", func(t *project.Treatment) *bool { return &t.TwoFiveAsFive }),
		ofTreatment(v, "Borrowing", "How freely a block takes voices from the family's other chord.", project.Borrows, session.BorrowName,
			func(t *project.Treatment) *project.Borrow { return &t.Borrow }),
		ofTreatment(v, "Dominants", "The ninths and fifths of dominants where the symbol leaves them open.", project.DominantColours, session.ColourName,
			func(t *project.Treatment) *project.DominantColour { return &t.Dominants }),
	}
	s := v.b.w.session
	for i, x := range theory.Sixths {
		hint := ""
		if i == len(theory.Sixths)-1 {
			hint = "A preferred family comes first where it serves a chord; a forbidden one never does."
		}
		name := "Family: " + x.String()
		if x == theory.DominantFlatFiveFamily {
			name = "Family: dom. flat five"
		}
		f := chooser(v, name, hint, favours, favour.String,
			func(f favour) error { return s.SetFamily(x, f == preferred, f == forbidden) },
			func(p project.Passage) favour { return favourOf(p.Treatment, x) })
		f.beside = true
		items = append(items, f)
	}
	return items
}

func (v *passagePage) line() []formItem {
	return []formItem{
		ofTreatment(v, "Leaning", "What the line leans towards where taste decides.", project.Leanings, session.LeaningName,
			func(t *project.Treatment) *project.Leaning { return &t.Leaning }),
		v.switched("moves inner voices", "Under a held note the inner voices go away and come home again.", func(t *project.Treatment) *bool { return &t.MoveInner }),
		v.switched("alternates repeated notes", "A note that is repeated changes between home and away.", func(t *project.Treatment) *bool { return &t.AlternateRepeats }),
		v.switched("whole blocks in fast runs", "Otherwise a run too fast for blocks thins to pairs, octaves or the lead alone.", func(t *project.Treatment) *bool { return &t.FullRuns }),
	}
}

func (v *passagePage) hands() []formItem {
	s, w := v.b.w.session, v.b.w
	return []formItem{
		chooser(v, "Hand plan", "Which hand plays lead, block and comp, and on which manual.", project.HandPlans, session.PlanName, s.SetPlan,
			func(p project.Passage) project.HandPlan { return p.Plan }),
		chooser(v, "Bass", "What the feet play.", project.BassStyles, words.Bass, s.SetBass,
			func(p project.Passage) project.BassStyle { return p.Bass }),
		ofTreatment(v, "Reach counts", "How strongly the player's hands bear on the choice of blocks.", project.ReachWeights, session.ReachWeightName,
			func(t *project.Treatment) *project.ReachWeight { return &t.Reach }),
		newButtons(w, "Who plays is set for the whole chart: hands, feet, touch and speed.", w.top.command("player…", "reach.player"), w.top.command("findings", "focus.reach")),
	}
}

func (v *passagePage) sound() []formItem {
	s, w := v.b.w.session, v.b.w
	change := func(f func(*project.Registration)) error {
		r := s.Passage().Registration
		f(&r)
		return s.SetRegistrationOf(s.CurrentPassage(), r)
	}
	list := newPicker(w, nil, func(i int) {
		w.grid.say(s.SetRegistrationOf(s.CurrentPassage(), w.registrations()[i]))
	})
	list.got = func() { v.seen(list) }
	swell := []int{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100}
	tenths := func(v float64) int { return 10 * int(v*10+0.5) }
	percent := func(n int) string { return fmt.Sprintf("%d %%", n) }
	return []formItem{
		newField(w, "Registration", "The section of the band that the drawbars stand for.", list, func(p project.Passage) { showRegistration(list, w.registrations(), p.Registration) }),
		chooser(v, "Rotary speaker", "The speed it starts the passage with.", project.RotarySpeeds, project.Rotary.String,
			func(x project.Rotary) error { return change(func(r *project.Registration) { r.Rotary = x }) },
			func(p project.Passage) project.Rotary { return p.Registration.Rotary }),
		chooser(v, "Swell", "How far the expression pedal is open, where the passage starts.", swell, percent,
			func(n int) error { return change(func(r *project.Registration) { *r = r.WithSwell(float64(n) / 100) }) },
			func(p project.Passage) int { return tenths(p.Registration.Swell) }),
		chooser(v, "Swell at the end", "Where the expression pedal glides to in the course of the passage.", swell, percent,
			func(n int) error { return change(func(r *project.Registration) { *r = r.GlidingTo(float64(n) / 100) }) },
			func(p project.Passage) int { return tenths(p.Registration.SwellAt(1)) }),
		newButtons(w, "Drawbars and effects of the passage are on the console.", w.top.command("drawbars", "focus.console"), w.top.command("save under a name…", "registration.save"), w.top.command("your own…", "registration.list")),
	}
}

// showRegistration puts a registration on a picker of those there are; one that
// is none of them, such as that of another user's chart, is shown by its name.
func showRegistration(c *picker, list []project.Registration, now project.Registration) {
	at := -1
	c.options = c.options[:0]
	for i, r := range list {
		c.options = append(c.options, r.Name)
		if r.Name == now.Name && r.Upper == now.Upper && r.Lower == now.Lower && r.Pedal == now.Pedal {
			at = i
		}
	}
	if c.other != now.Name {
		c.other = now.Name
		c.Refresh()
	}
	c.show(at)
}

// outline names the passage, sets it up in one step and moves its borders.
func (v *passagePage) outline() []formItem {
	w := v.b.w
	s := w.session
	named := 0 // the passage whose name is shown: a click elsewhere may move the caret before the name is kept
	name := newFormEntry(w, func(text string) error { return s.RenamePassageAt(named, text) })
	name.got = func() { v.seen(name) }
	template := newPicker(w, nil, func(i int) { w.grid.say(s.ApplyTemplate(w.templates()[i])) })
	template.other = "settings of its own"
	template.got = func() { v.seen(template) }
	return []formItem{
		newField(w, "Name", "Shown on the passage's card over the grid.", name, func(p project.Passage) {
			named = s.CurrentPassage()
			name.show(p.Name)
		}),
		newField(w, "Template", "Sets treatment, hands and sound in one step.", template, func(p project.Passage) { showTemplate(template, w.templates(), p) }),
		newButtons(w, "", w.top.command("save as template…", "template.save"), w.top.command("templates…", "template.list")),
		newButtons(w, "Splitting starts a new passage at the caret's bar. The border on the left of a card can be dragged, too.",
			w.top.command("split here", "passage.split"), w.top.command("of selected bars", "passage.make"), w.top.command("join to the one before", "passage.join"),
			w.top.command("start a bar earlier", "strip.earlier"), w.top.command("start a bar later", "strip.later")),
	}
}

// showTemplate puts the template that a passage is set as on a picker.
func showTemplate(c *picker, list []project.Template, p project.Passage) {
	c.options, c.chosen = nil, -1
	for i, t := range list {
		c.options = append(c.options, t.Name)
		if c.chosen < 0 && t.Fits(p) {
			c.chosen = i
		}
	}
	c.Refresh()
}

// takes switches, makes and compares the takes of the passage.
func (v *passagePage) takes() []formItem {
	w := v.b.w
	s := w.session
	use := newPicker(w, nil, func(i int) { w.grid.say(s.UseTake(i)) })
	use.other = "one arrangement so far"
	use.got = func() { v.seen(use) }
	return []formItem{
		newField(w, "Take in use", "A take is one complete arrangement of the passage, pins included.", use, func(project.Passage) {
			use.options, use.chosen = s.Takes()
			if len(use.options) == 0 {
				use.chosen = -1
			}
			use.Refresh()
		}),
		newButtons(w, "A new take starts as a copy of the one in use.", w.top.command("make a take", "take.make"), w.top.command("name it…", "take.rename"), w.top.command("delete it", "take.delete")),
		newButtons(w, "Comparing loops the passage, a pass each; changing over goes on with the other take at the same place.",
			w.top.command("compare by ear", "take.compare"), w.top.command("change over", "take.changeover")),
		newButtons(w, "Proposals say how they differ and can be heard before one is kept.",
			w.top.command("surprise me", "take.surprise"), w.top.command("proposals…", "take.proposals"), w.top.command("all takes…", "take.list")),
	}
}

// openPart opens the form at a part, by the name that commands give it.
func (v *passagePage) openPart(form string) bool {
	for i, name := range command.PassageSections() {
		if form == command.SectionForm(name) {
			v.turn(i)
			return true
		}
	}
	return false
}
