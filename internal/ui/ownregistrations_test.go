package ui

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// ownNames lists the user's own registrations.
func ownNames(w *Window) (names []string) {
	for _, r := range w.ownRegistrations() {
		names = append(names, r.Name)
	}
	return names
}

// saveNow keeps the caret's registration under a name.
func saveNow(t *testing.T, w *Window, name string) project.Registration {
	t.Helper()
	if err := w.saveRegistration(w.session.HeardPassage(), name); err != nil {
		t.Fatal(err)
	}
	return w.session.Heard().Registration
}

// ownRegistrationsShown opens the list with two of a user's own in it.
func ownRegistrationsShown(t *testing.T, w *Window) fyne.CanvasObject {
	t.Helper()
	for i, name := range []string{"Sunday reeds", "evening choir"} {
		r := project.Registrations()[5+7*i]
		r.Name = name
		if err := w.keepRegistrations(append(slices.Clone(w.ownRegistrations()), r)); err != nil {
			t.Fatal(err)
		}
	}
	w.run("registration.list")
	return w.win.Content()
}

// TestOwnRegistrationIsSavedAndChosen saves one with the keys, chooses it for
// another passage in menu, form and list, and takes each choice back.
func TestOwnRegistrationIsSavedAndChosen(t *testing.T) {
	w := open(t, Options{Own: filepath.Join(t.TempDir(), "own.json")}, alwaysDark, fyne.NewSize(1280, 720))
	for _, do := range []func() error{
		func() error { return w.session.SetDrawbar(4, 5) }, func() error { return w.session.SetSwell(0.35) },
		func() error { return w.session.SetDrive(0.6) }, func() error { return w.session.SetRotary(project.RotaryStopped) },
	} {
		if err := do(); err != nil {
			t.Fatal(err)
		}
	}
	before := w.session.Heard().Registration
	w.run("registration.save")
	typeRunes(w, "Sunday")
	press(w, fyne.KeyReturn)
	own := w.session.Heard().Registration
	if before.Name = "Sunday"; own != before || !slices.Equal(ownNames(w), []string{"Sunday"}) {
		t.Fatalf("kept %v, the passage has %+v, want %+v", ownNames(w), own, before)
	}
	other := func() project.Registration { return w.session.Chart().Passages[2].Registration }
	w.session.SelectPassageAt(2)
	was := other()
	built := len(project.Registrations())
	for name, choose := range map[string]func(){
		"menu": func() {
			items := w.registrationsMenu().Items
			i := slices.IndexFunc(items, func(i *fyne.MenuItem) bool { return i.Label == "Sunday" })
			if i <= built-1 {
				t.Fatalf("the menu has it at %d", i)
			}
			items[i].Action()
		},
		"list": func() { w.run("registration.list"); tapListed(t, w, "Choose", 0) },
		"passage form": func() {
			w.run("form.sound")
			p := pickers(w)[0]
			if i := slices.Index(p.options, "Sunday"); i != built {
				t.Fatalf("the form has it at %d", i)
			}
			p.pick(built)
		},
	} {
		choose()
		if other() != own {
			t.Errorf("%s: the passage has %+v", name, other())
		}
		w.run("edit.undo")
		if other() != was {
			t.Errorf("%s: one undo leaves %+v", name, other())
		}
	}
	if list := nextWindow(t, w).registrations(); list[len(list)-1] != own {
		t.Errorf("the next window has %+v", list[len(list)-1])
	}
}

func TestOwnRegistrationIsReplacedRenamedDeleted(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	saveNow(t, w, "one")
	first := saveNow(t, w, "two")
	for _, name := range []string{"", " ", "reeds", "Reeds", "x" + project.ChangedMark} {
		if w.saveRegistration(0, name) == nil || w.renameRegistration("one", name) == nil {
			t.Errorf("%q is accepted as a name", name)
		}
	}
	if w.renameRegistration("one", "two") == nil || w.renameRegistration("three", "four") == nil {
		t.Error("a name is given twice, or to none")
	}
	if err := w.session.SetDrawbar(0, 1+int(first.Upper[0])%7); err != nil {
		t.Fatal(err)
	}
	if got := w.session.Heard().Registration.Name; got != "two, changed" {
		t.Errorf("after a drawbar moved it is called %q", got)
	}
	w.run("registration.list")
	tapListed(t, w, "Replace", 1)
	replaced := w.session.Heard().Registration
	if replaced.Name != "two" || replaced.Upper == first.Upper || w.ownRegistrations()[1] != replaced {
		t.Errorf("replaced by %+v, kept %+v", replaced, w.ownRegistrations()[1])
	}
	tapListed(t, w, "Take back", 0)
	if w.ownRegistrations()[1] != first {
		t.Error("taking back does not bring the replaced one")
	}
	tapListed(t, w, "Delete", 0)
	if !slices.Equal(ownNames(w), []string{"two"}) {
		t.Errorf("after deleting: %v", ownNames(w))
	}
	tapListed(t, w, "Take back", 0)
	press(w, fyne.KeyEscape)
	if err := w.renameRegistration("one", "uno"); err != nil || !slices.Equal(ownNames(w), []string{"uno", "two"}) {
		t.Errorf("renamed: %v, %v", ownNames(w), err)
	}
}

func TestOwnRegistrationsAreBounded(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	var many []project.Registration
	for i := range project.MaxRegistrations {
		r := project.Registrations()[0]
		r.Name = fmt.Sprint("own ", i)
		many = append(many, r)
	}
	if err := w.keepRegistrations(many); err != nil {
		t.Fatal(err)
	}
	if h := widget.NewMenu(w.registrationsMenu()).MinSize().Height; h > 680 {
		t.Errorf("the console's menu is %v high", h)
	}
	if h := widget.NewMenu(w.menu("Own registrations")).MinSize().Height; h > 680 {
		t.Errorf("the menu of own registrations is %v high", h)
	}
	w.run("passage.registration")
	press(w, fyne.KeySpace)
	lists := 0
	for _, o := range test.LaidOutObjects(w.win.Canvas().Overlays().Top()) {
		if m, ok := o.(*widget.PopUpMenu); ok {
			lists++
			if low := m.Position().Y + m.Size().Height; low > 720 || m.Size().Height < 300 {
				t.Errorf("the form's list is %v high and ends at %v", m.Size().Height, low)
			}
		}
	}
	if lists != 1 {
		t.Errorf("%d lists are open", lists)
	}
	press(w, fyne.KeyEscape)
	press(w, fyne.KeyEscape)
	if w.saveRegistration(0, "one too many") == nil || w.saveRegistration(0, "own 7") != nil {
		t.Error("the limit is not kept, or keeps one from being replaced")
	}
}

// TestChartWithAnOwnRegistrationNeedsNoStore opens one in a window that has no
// registrations of its own.
func TestChartWithAnOwnRegistrationNeedsNoStore(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	if err := w.session.SetDrawbar(0, 3); err != nil {
		t.Fatal(err)
	}
	own := saveNow(t, w, "Sunday")
	path := t.TempDir() + "/a.organbook"
	if err := project.Save(path, w.session.Chart()); err != nil {
		t.Fatal(err)
	}
	chart, err := project.Load(path)
	if err != nil {
		t.Fatal(err)
	}
	elsewhere := open(t, Options{Chart: chart, Path: path}, alwaysDark, fyne.NewSize(1280, 720))
	if len(ownNames(elsewhere)) != 0 {
		t.Fatal("the other window has the store")
	}
	if got := elsewhere.session.Heard().Registration; got != own {
		t.Errorf("%+v came as %+v", own, got)
	}
	elsewhere.run("form." + command.PassageSections()[5])
	if p := pickers(elsewhere)[0]; p.chosen != -1 || p.other != "Sunday" {
		t.Errorf("the form shows %d %q", p.chosen, p.other)
	}
}

// TestOwnRegistrationsAreCommands: they are found in the list of commands, take a
// key, and keep it over renaming and in the next window; a deleted one is gone.
func TestOwnRegistrationsAreCommands(t *testing.T) {
	w := open(t, Options{Own: filepath.Join(t.TempDir(), "own.json")}, alwaysDark, fyne.NewSize(1280, 720))
	if err := w.session.SetDrawbar(0, 3); err != nil {
		t.Fatal(err)
	}
	own := saveNow(t, w, "Sunday")
	found := w.search("sunday")
	if len(found) == 0 || found[0].ID != command.OwnRegistrationID("Sunday") {
		t.Fatalf("the list of commands has %v", found)
	}
	if err := w.rebind(found[0].ID, []command.Stroke{"Alt+9"}); err == nil {
		t.Fatal("a key that means something else is taken")
	}
	if err := w.rebind(found[0].ID, []command.Stroke{"Ctrl+9"}); err != nil {
		t.Fatal(err)
	}
	if err := w.renameRegistration("Sunday", "Monday"); err != nil {
		t.Fatal(err)
	}
	for _, w := range []*Window{w, nextWindow(t, w)} {
		if len(w.search("sunday")) != 0 {
			t.Error("the old name is still a command")
		}
		w.session.SelectPassageAt(2)
		w.stroke(command.Grid, "Ctrl+9")
		if own.Name = "Monday"; w.session.Heard().Registration != own {
			t.Errorf("the key gives %+v", w.session.Heard().Registration)
		}
	}
	if err := w.dropRegistration("Monday"); err != nil {
		t.Fatal(err)
	}
	if len(w.search("monday")) != 0 || w.commands.ForKey(command.Grid, "Ctrl+9") != nil {
		t.Error("a deleted registration is still a command")
	}
	if err := w.restoreRegistrations(); err != nil {
		t.Fatal(err)
	}
	if c := w.commands.ForKey(command.Grid, "Ctrl+9"); c == nil || c.ID != command.OwnRegistrationID("Monday") {
		t.Error("what is taken back comes without its key")
	}
	if err := w.restoreRegistrations(); err != nil {
		t.Fatal(err)
	}
	if c := w.commands.ForKey(command.Grid, "Ctrl+9"); c == nil || c.ID != command.OwnRegistrationID("Sunday") {
		t.Error("a renaming that is taken back leaves the key behind")
	}
}

// TestAListOffersOnlyWhatCanBeDone looks at the foot of the lists: what compares is
// greyed out while nothing plays in turn, and so is taking back what was not done; a
// list without rows is no larger than its sentence.
func TestAListOffersOnlyWhatCanBeDone(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	able := func(label string) bool {
		for b := range w.list.when {
			if b.Text == label {
				return !b.Disabled()
			}
		}
		t.Fatalf("there is no %q", label)
		return false
	}
	w.registrationsForm()
	if able("Take back") || w.list.scroll.MinSize().Height > listNoteHeight {
		t.Errorf("nothing was saved: take back %v, %g high", able("Take back"), w.list.scroll.MinSize().Height)
	}
	r := w.session.Heard().Registration
	r.Name = "own"
	if err := w.keepRegistrations([]project.Registration{r}); err != nil {
		t.Fatal(err)
	}
	w.list.again()
	if !able("Take back") || w.list.scroll.MinSize().Height < 200 {
		t.Errorf("saved: take back %v, %g high", able("Take back"), w.list.scroll.MinSize().Height)
	}
	w.list.close()
	w.takesForm()
	if able("Change over") || able("Stop") {
		t.Error("nothing plays, yet it can be stopped or changed over")
	}
	if err := w.session.MakeTake(); err != nil {
		t.Fatal(err)
	}
	w.list.again()
	if err := w.session.CompareTake(0); err != nil {
		t.Fatal(err)
	}
	w.flush()
	if playing := w.session.IsComparing(); able("Change over") != playing {
		t.Errorf("comparing %v, change over %v", playing, able("Change over"))
	}
}
