package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

const gridPanel = command.Grid

// forms are the small forms by their names. What is named otherwise is a part of
// the passage form.
var forms = map[string]func(*Window){
	command.FormTitle:            (*Window).titleForm,
	command.FormKey:              (*Window).keyForm,
	command.FormMeter:            (*Window).meterForm,
	command.FormPickup:           (*Window).pickupForm,
	command.FormSection:          (*Window).sectionForm,
	command.FormEnding:           (*Window).endingForm,
	command.FormTempo:            (*Window).tempoForm,
	command.FormTranspose:        (*Window).transposeForm,
	command.FormPassageName:      (*Window).passageNameForm,
	command.FormTreatment:        func(w *Window) { w.bench.passage.turn(w.bench.passage.part) },
	command.FormTakeName:         (*Window).takeNameForm,
	command.FormTakes:            (*Window).takesForm,
	command.FormSurprise:         (*Window).surpriseForm,
	command.FormTemplates:        (*Window).templatesForm,
	command.FormTemplateName:     (*Window).templateNameForm,
	command.FormRegistration:     (*Window).registrationForm,
	command.FormRegistrations:    (*Window).registrationsForm,
	command.FormRegistrationName: (*Window).registrationNameForm,
	command.FormConsole:          (*Window).consoleForm,
	command.FormPlayer:           (*Window).playerForm,
	command.FormRamp:             (*Window).rampForm,
	command.FormRecent:           (*Window).OpenRecent,
}

// Form opens a small form, or a part of the passage form, by its name.
func (w *Window) Form(name string) {
	if open := forms[name]; open != nil {
		open(w)
		return
	}
	w.bench.passage.openPart(name)
}

func (w *Window) keyForm() {
	s := w.session
	from, _ := s.Bar()
	w.oneLine("Key", keyLabel(s, from), tonalityText(s.Chart().KeyOfBar(from)), func(text string) error {
		k, err := readTonality(text, theory.Major)
		if err != nil {
			return err
		}
		return s.SetKey(k)
	})
}

func (w *Window) meterForm() {
	_, b := w.session.Bar()
	w.oneLine("Meter", "Meter from here on, such as 3/4, 12/8 or, in groups, 2+3/4", b.Meter.String(), func(text string) error {
		m, err := session.ReadMeter(text)
		if err != nil {
			return err
		}
		return w.session.SetMeter(m)
	})
}

func (w *Window) pickupForm() {
	w.oneLine("Pick-up", pickupLabel(w.session), w.session.Pickup(), w.session.SetPickup)
}

func (w *Window) sectionForm() {
	_, b := w.session.Bar()
	w.oneLine("Section label", "Printed over the bar, such as A or Bridge; empty takes it away", b.Section, w.session.SetSection)
}

func (w *Window) endingForm() {
	_, b := w.session.Bar()
	w.oneLine("Ending", "Passes that play the selected bars, such as 1 or 1, 2; empty takes the mark away", passesText(b.Ending), w.session.SetEnding)
}

func (w *Window) passageNameForm() {
	w.oneLine("Rename passage", "Name of the passage", w.session.Passage().Name, w.session.RenamePassage)
}

func (w *Window) takeNameForm() {
	w.oneLine("Name the take", "Name of this arrangement of the passage", w.session.TakeName(), w.session.RenameTake)
}

func keyLabel(s *session.Session, bar int) string {
	if bar == 0 {
		return "Key of the chart, such as G minor or Bb"
	}
	return fmt.Sprintf("Key from bar %d on, such as G minor or Bb", s.Chart().BarNumber(bar))
}

func pickupLabel(s *session.Session) string {
	return fmt.Sprintf("Beats of %v before bar 1, such as 1 or 1.5; 0 takes the pick-up away with its notes", s.Chart().Bars[0].Meter)
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
	w.formThen(title, items, first, submit, w.regain)
}

// formThen is form with what happens when it closes.
func (w *Window) formThen(title string, items []*widget.FormItem, first fyne.Focusable, submit func() error, then func()) {
	for _, item := range items {
		item.Text, item.HintText = tr(item.Text), tr(item.HintText)
	}
	form := widget.NewForm(items...)
	problem := widget.NewLabel("")
	problem.Importance = widget.DangerImportance
	problem.Wrapping = fyne.TextWrapWord
	var d *dialog.CustomDialog
	closing := func() { d.Hide(); then() }
	done := func() {
		if err := submit(); err != nil {
			problem.SetText(sentence(err))
			return
		}
		closing()
	}
	fields := make([]fyne.CanvasObject, len(items))
	for i, item := range items {
		fields[i] = item.Widget
	}
	answerFields(fields, done, closing, func() { problem.SetText("") })
	ok := newEscButton("Apply", done, closing)
	ok.Importance = widget.HighImportance
	cancel := newEscButton("Cancel", closing, closing)
	form.Append("", problem)
	d = dialog.NewCustomWithoutButtons(tr(title), form, w.win)
	d.SetButtons([]fyne.CanvasObject{cancel, ok})
	d.Resize(fyne.NewSize(min(formWidth(items), w.win.Canvas().Size().Width-2*unit), 0))
	d.Show()
	if first == nil {
		first = ok
	}
	w.giveDialog(first)
	if e, ok := first.(*escEntry); ok { // typing replaces what is there
		e.TypedShortcut(&fyne.ShortcutSelectAll{})
	}
}

// formWidth is the width of a form's dialog in which its hints, each a line, end with
// their fields.
func formWidth(items []*widget.FormItem) float32 {
	const usual, around = 480, 72 // around name and hint are margins
	var name, hint float32
	for _, item := range items {
		name = max(name, fyne.MeasureText(item.Text, sizeText, fyne.TextStyle{Bold: true}).Width)
		hint = max(hint, fyne.MeasureText(item.HintText, sizeSmall, fyne.TextStyle{}).Width)
	}
	return max(usual, name+hint+around)
}

// answerFields lets Enter in any field of a form agree to it and Escape close it;
// changed is told when a line is typed in, for what was wrong is being put right.
func answerFields(fields []fyne.CanvasObject, done, closing, changed func()) {
	for _, field := range fields {
		switch x := field.(type) {
		case *escEntry:
			x.OnSubmitted, x.escape = func(string) { done() }, closing
			before := x.OnChanged
			x.OnChanged = func(text string) {
				changed()
				if before != nil {
					before(text)
				}
			}
		case *escSelect:
			x.submit, x.escape = done, closing
		case *escCheck:
			x.submit, x.escape = done, closing
		case *fyne.Container:
			answerFields(x.Objects, done, closing, changed)
		}
	}
}

// oneLine asks for one line of text.
func (w *Window) oneLine(title, label, text string, submit func(string) error) {
	w.oneLineThen(title, label, text, submit, w.regain)
}

// oneLineThen is oneLine with what happens when it closes.
func (w *Window) oneLineThen(title, label, text string, submit func(string) error, then func()) {
	e := newEscEntry(text, nil)
	about := widget.NewLabel(tr(label))
	about.Wrapping = fyne.TextWrapWord
	w.formThen(title, []*widget.FormItem{widget.NewFormItem("", about), widget.NewFormItem("", e)}, e, func() error { return submit(e.Text) }, then)
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
	was := s.Chart().Swing
	swing := newEscEntry(fmt.Sprintf("%.0f %%", 100*was), nil)
	as := swing.Text
	tempoItem, swingItem := widget.NewFormItem("Tempo", tempo), widget.NewFormItem("Swing", swing)
	tempoItem.HintText = tempoHint(s.Chart(), from)
	swingItem.HintText = "where the off-beat eighth falls in the whole chart: 50 % is straight, 67 % a triplet"
	w.form("Tempo and swing", []*widget.FormItem{tempoItem, swingItem}, tempo, func() error {
		t, err := strconv.ParseFloat(strings.TrimSpace(tempo.Text), 64)
		if err != nil {
			return fmt.Errorf("tempo %q: write a number such as 168", tempo.Text)
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(swing.Text), "%")), 64)
		if err != nil {
			return fmt.Errorf("swing %q: write a part of the beat such as 62", swing.Text)
		}
		if v /= 100; swing.Text == as {
			v = was // two thirds are no 67 %
		}
		if s.SetTempo(t, v) != nil {
			return fmt.Errorf("%s", strings.TrimSuffix(s.Message(), "."))
		}
		return nil
	})
}

// tempoHint says what the field holds and how far it reaches.
func tempoHint(c *project.Chart, from int) string {
	if from == 0 {
		return "quarter notes a minute, 20 to 400"
	}
	return fmt.Sprintf("quarter notes a minute from bar %d on, 20 to 400", c.BarNumber(from))
}

func (w *Window) transposeForm() {
	key := newEscEntry(tonalityText(w.session.Chart().Key), nil)
	ways := []string{"an octave lower", "by the smaller way", "an octave higher"}
	octave := choice(ways, func(s string) string { return s }, ways[1])
	items := []*widget.FormItem{widget.NewFormItem("To the key", key), widget.NewFormItem("", octave)}
	w.form("Transpose the whole chart", items, key, func() error {
		k, err := readTonality(key.Text, w.session.Chart().Key.Mode())
		if err != nil {
			return err
		}
		return w.session.Transpose(k, octave.SelectedIndex()-1)
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
