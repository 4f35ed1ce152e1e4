package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
	"organbook/internal/ui/words"
)

const gridPanel = command.Grid

// Form opens a small form by its name.
func (w *Window) Form(name string) {
	s := w.session
	switch name {
	case command.FormTitle:
		w.titleForm()
	case command.FormKey:
		from, _ := s.Bar()
		w.oneLine("Key", keyLabel(s, from), s.Chart().KeyOfBar(from).String(), func(text string) error {
			k, err := theory.ParseKey(text)
			if err != nil {
				return err
			}
			return s.SetKey(k)
		})
	case command.FormMeter:
		_, b := s.Bar()
		w.oneLine("Meter", "Meter from here on, such as 3/4 or 12/8", b.Meter.String(), func(text string) error {
			m, err := session.ReadMeter(text)
			if err != nil {
				return err
			}
			return s.SetMeter(m)
		})
	case command.FormSection:
		_, b := s.Bar()
		w.oneLine("Section label", "Printed over the bar, such as A or Bridge; empty takes it away", b.Section, s.SetSection)
	case command.FormEnding:
		_, b := s.Bar()
		w.oneLine("Ending", "Passes that play the selected bars, such as 1 or 1, 2; empty takes the mark away", passesText(b.Ending), s.SetEnding)
	case command.FormPassageName:
		w.oneLine("Rename passage", "Name of the passage", s.Passage().Name, s.RenamePassage)
	case command.FormTakeName:
		w.oneLine("Name the take", "Name of this arrangement of the passage", s.TakeName(), s.RenameTake)
	case command.FormTempo:
		w.tempoForm()
	case command.FormTranspose:
		w.transposeForm()
	case command.FormTreatment:
		w.passageForm()
	case command.FormRegistration:
		w.registrationForm()
	case command.FormPlayer:
		w.playerForm()
	case command.FormTakes:
		w.takesForm()
	case command.FormSurprise:
		w.surpriseForm()
	case command.FormRecent:
		w.OpenFile()
	}
}

func keyLabel(s *session.Session, bar int) string {
	if bar == 0 {
		return "Key of the chart, such as G minor or Bb"
	}
	return fmt.Sprintf("Key from bar %d on, such as G minor or Bb", s.Chart().BarNumber(bar))
}

func passesText(passes []int) string {
	var words []string
	for _, n := range passes {
		words = append(words, strconv.Itoa(n))
	}
	return strings.Join(words, ", ")
}

// form shows labelled fields with a line for an error; submit gets them when
// the user agrees and the form stays until submit succeeds.
func (w *Window) form(title string, items []*widget.FormItem, first fyne.Focusable, submit func() error) {
	form := widget.NewForm(items...)
	problem := widget.NewLabel("")
	problem.Importance = widget.DangerImportance
	problem.Wrapping = fyne.TextWrapWord
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); w.focusPanel(gridPanel) }
	done := func() {
		if err := submit(); err != nil {
			problem.SetText(session.Sentence(err))
			return
		}
		closing()
	}
	for _, item := range items {
		switch x := item.Widget.(type) {
		case *escEntry:
			x.OnSubmitted, x.escape = func(string) { done() }, closing
		case *escSelect:
			x.escape = closing
		}
	}
	ok := newEscButton("Apply", done, closing)
	ok.Importance = widget.HighImportance
	cancel := newEscButton("Cancel", closing, closing)
	form.Append("", problem)
	d = dialog.NewCustomWithoutButtons(title, form, w.win)
	d.SetButtons([]fyne.CanvasObject{cancel, ok})
	d.Resize(fyne.NewSize(480, 0))
	d.Show()
	if first != nil {
		w.win.Canvas().Focus(first)
	}
}

// oneLine asks for one line of text.
func (w *Window) oneLine(title, label, text string, submit func(string) error) {
	e := newEscEntry(text, nil)
	about := widget.NewLabel(label)
	about.Wrapping = fyne.TextWrapWord
	w.form(title, []*widget.FormItem{widget.NewFormItem("", about), widget.NewFormItem("", e)}, e, func() error { return submit(e.Text) })
	e.TypedShortcut(&fyne.ShortcutSelectAll{})
}

func (w *Window) titleForm() {
	c := w.session.Chart()
	title, composer := newEscEntry(c.Title, nil), newEscEntry(c.Composer, nil)
	now, _ := project.ConsoleByID(c.Console)
	consoles := project.ConsolesWith(c.Console)
	console := choice(consoles, func(k project.Console) string { return k.Name }, now)
	items := []*widget.FormItem{widget.NewFormItem("Title", title), widget.NewFormItem("Composer", composer), widget.NewFormItem("Console", console)}
	w.form("Chart", items, title, func() error {
		return w.session.SetHead(title.Text, composer.Text, consoles[console.SelectedIndex()].ID)
	})
}

func (w *Window) tempoForm() {
	s := w.session
	from, _ := s.Bar()
	tempo := newEscEntry(strconv.FormatFloat(s.Chart().TempoAt(s.Chart().BarStart(from)), 'f', -1, 64), nil)
	swing := newEscEntry(strconv.FormatFloat(100*s.Chart().Swing, 'f', 0, 64), nil)
	tempoItem, swingItem := widget.NewFormItem("Tempo", tempo), widget.NewFormItem("Swing", swing)
	tempoItem.HintText = "quarter notes a minute, 20 to 400"
	swingItem.HintText = "where the off-beat eighth falls: 50 % is straight, 67 % a triplet"
	w.form("Tempo and swing", []*widget.FormItem{tempoItem, swingItem}, tempo, func() error {
		t, err := strconv.ParseFloat(strings.TrimSpace(tempo.Text), 64)
		if err != nil {
			return fmt.Errorf("tempo %q: write a number such as 168", tempo.Text)
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(swing.Text), "%")), 64)
		if err != nil {
			return fmt.Errorf("swing %q: write a part of the beat such as 62", swing.Text)
		}
		if s.SetTempo(t, v/100) != nil {
			return fmt.Errorf("%s", strings.TrimSuffix(s.Message(), "."))
		}
		return nil
	})
}

func (w *Window) transposeForm() {
	key := newEscEntry(w.session.Chart().Key.String(), nil)
	ways := []string{"an octave lower", "by the smaller way", "an octave higher"}
	octave := choice(ways, func(s string) string { return s }, ways[1])
	items := []*widget.FormItem{widget.NewFormItem("To the key", key), widget.NewFormItem("", octave)}
	w.form("Transpose the whole chart", items, key, func() error {
		k, err := theory.ParseKey(key.Text)
		if err != nil {
			return err
		}
		if k.Mode() != w.session.Chart().Key.Mode() {
			return fmt.Errorf("the chart is in %s; transposing keeps the mode", w.session.Chart().Key.Mode())
		}
		return w.session.Transpose(k, octave.SelectedIndex()-1)
	})
	key.TypedShortcut(&fyne.ShortcutSelectAll{})
}

// passageForm changes everything about a passage but its registration.
func (w *Window) passageForm() {
	s := w.session
	p := s.Passage()
	name := newEscEntry(p.Name, nil)
	voicing := choice(session.Voicings, session.VoicingName, p.Treatment.Voicing)
	plan := choice(project.HandPlans, session.PlanName, p.Plan)
	bass := choice(project.BassStyles, words.Bass, p.Bass)
	octaves := []int{-2, -1, 0, 1, 2}
	octave := choice(octaves, octaveName, p.Treatment.LeadOctave)
	twoFive := widget.NewCheck("play a ii–V as V", nil)
	twoFive.SetChecked(p.Treatment.TwoFiveAsFive)
	borrow := choice(project.Borrows, session.BorrowName, p.Treatment.Borrow)
	dominants := choice(project.DominantColours, session.ColourName, p.Treatment.Dominants)
	leaning := choice(project.Leanings, session.LeaningName, p.Treatment.Leaning)
	check := func(text string, on bool) *widget.Check {
		c := widget.NewCheck(text, nil)
		c.SetChecked(on)
		return c
	}
	inner := check("move inner voices under held notes", p.Treatment.MoveInner)
	repeats := check("alternate on repeated notes", p.Treatment.AlternateRepeats)
	climax := check("open at the climax", p.Treatment.OpenAtClimax)
	runs := check("whole blocks in fast runs", p.Treatment.FullRuns)
	items := []*widget.FormItem{
		widget.NewFormItem("Name", name), widget.NewFormItem("Voicing", voicing), widget.NewFormItem("Hand plan", plan),
		widget.NewFormItem("Bass", bass), widget.NewFormItem("Lead", octave), widget.NewFormItem("Borrow", borrow),
		widget.NewFormItem("Dominants", dominants), widget.NewFormItem("Lean", leaning),
		widget.NewFormItem("", container.NewGridWithColumns(2, twoFive, climax, inner, repeats, runs)),
	}
	w.form("Passage "+s.PassageTitle(s.CurrentPassage()), items, name, func() error {
		p.Name = name.Text
		t := &p.Treatment
		t.Voicing, t.TwoFiveAsFive, t.LeadOctave = session.Voicings[voicing.SelectedIndex()], twoFive.Checked, octaves[octave.SelectedIndex()]
		t.Borrow, t.Dominants = project.Borrows[borrow.SelectedIndex()], project.DominantColours[dominants.SelectedIndex()]
		t.Leaning = project.Leanings[leaning.SelectedIndex()]
		t.MoveInner, t.AlternateRepeats, t.OpenAtClimax, t.FullRuns = inner.Checked, repeats.Checked, climax.Checked, runs.Checked
		p.Plan, p.Bass = project.HandPlans[plan.SelectedIndex()], project.BassStyles[bass.SelectedIndex()]
		return s.SetPassage(p)
	})
}

func octaveName(n int) string {
	switch n {
	case 0:
		return "as written"
	case 1:
		return "an octave higher"
	case -1:
		return "an octave lower"
	}
	if n > 0 {
		return fmt.Sprintf("%d octaves higher", n)
	}
	return fmt.Sprintf("%d octaves lower", -n)
}

// registrationForm chooses a registration from the list.
func (w *Window) registrationForm() {
	s := w.session
	passage := s.HeardPassage()
	now := s.Heard().Registration
	list := project.Registrations()
	if built, ok := project.RegistrationByName(now.Name); !ok || built != now {
		list = append([]project.Registration{now}, list...)
	}
	sel := choice(list, func(r project.Registration) string { return r.Name }, now)
	speed := choice(project.RotarySpeeds, project.Rotary.String, now.Rotary)
	sel.OnChanged = func(string) { speed.SetSelectedIndex(int(list[sel.SelectedIndex()].Rotary)) }
	items := []*widget.FormItem{widget.NewFormItem("Section of the band", sel), widget.NewFormItem("Rotary speaker", speed)}
	w.form("Registration of "+s.PassageTitle(passage), items, sel, func() error {
		r := list[sel.SelectedIndex()]
		r.Rotary = project.RotarySpeeds[speed.SelectedIndex()]
		return s.SetRegistrationOf(passage, r)
	})
}
