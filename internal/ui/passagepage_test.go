package ui

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// pickers and toggles are the controls of the part of the form that is shown.
func pickers(w *Window) (out []*picker) {
	for _, o := range w.bench.passage.objects() {
		if p, ok := o.(*picker); ok {
			out = append(out, p)
		}
	}
	return out
}

func toggles(w *Window) (out []*toggle) {
	for _, o := range w.bench.passage.objects() {
		if t, ok := o.(*toggle); ok {
			out = append(out, t)
		}
	}
	return out
}

// TestEveryFieldOfTheFormIsAnEditThatUndoes opens each part of the form by its
// command and changes each field by the keyboard: the chart changes at once, in
// one step that undo takes back, and the form follows.
func TestEveryFieldOfTheFormIsAnEditThatUndoes(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1280, Height: 720}} {
		w := open(t, Options{}, alwaysDark, size)
		changed := 0
		for _, part := range command.PassageSections() {
			w.run("form." + part)
			if w.bench.page != command.PassageForm {
				t.Fatalf("%s does not open the form", part)
			}
			for i, p := range pickers(w) {
				if len(p.options) < 2 {
					continue // takes, of which there are none
				}
				before, shown := w.session.Chart(), p.chosen
				w.win.Canvas().Focus(p)
				press(w, fyne.KeySpace)
				if need := listHeight(p); need > size.Height-20 {
					t.Errorf("%s, choice %d: its list is %v high", part, i, need)
				}
				pressOverlay(w, downTo(p))
				if w.session.Chart() == before {
					t.Errorf("%s, choice %d (%s) changes nothing", part, i, p.label())
					continue
				}
				if p.chosen == shown {
					t.Errorf("%s, choice %d still shows %q", part, i, p.label())
				}
				undone(t, w, before, part)
				changed++
			}
			for _, x := range toggles(w) {
				before := w.session.Chart()
				w.win.Canvas().Focus(x)
				press(w, fyne.KeySpace)
				if !x.on || w.session.Chart() == before {
					t.Errorf("%s: %q changes nothing", part, x.word)
				}
				undone(t, w, before, part)
				changed++
			}
		}
		if changed < 20 {
			t.Errorf("only %d fields were tried", changed)
		}
	}
}

// listHeight is how high the list of a picker's choices is.
func listHeight(p *picker) float32 {
	items := make([]*fyne.MenuItem, len(p.options))
	for i, o := range p.options {
		items[i] = fyne.NewMenuItem(o, nil)
	}
	return widget.NewMenu(fyne.NewMenu("", items...)).MinSize().Height
}

// downTo is how often Down has to be pressed to reach a choice that is not the
// one in force: the first after it, or the one before the last.
func downTo(p *picker) fyne.KeyName {
	if p.chosen == len(p.options)-1 {
		return fyne.KeyUp
	}
	return fyne.KeyDown
}

// pressOverlay walks one step in the list that is open and takes it.
func pressOverlay(w *Window, step fyne.KeyName) {
	menu := w.win.Canvas().Overlays().Top()
	if menu == nil {
		return
	}
	press(w, step, fyne.KeyReturn)
}

func undone(t *testing.T, w *Window, before *project.Chart, what string) {
	t.Helper()
	w.win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutUndo{})
	if !w.session.Chart().Equal(before) {
		t.Errorf("%s: one undo does not take the change back", what)
	}
}

func TestTheFormNamesAPassage(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("form.outline")
	e, ok := w.win.Canvas().Focused().(*formEntry)
	if !ok {
		t.Fatalf("%T has the keyboard, want the name", w.win.Canvas().Focused())
	}
	e.SetText("First half")
	press(w, fyne.KeyReturn)
	if w.session.Passage().Name != "First half" {
		t.Errorf("Enter does not keep the name: %q", w.session.Passage().Name)
	}
	e.SetText("Something else")
	press(w, fyne.KeyEscape)
	if w.session.Passage().Name != "First half" || w.win.Canvas().Focused() != w.grid {
		t.Errorf("Escape keeps %q", w.session.Passage().Name)
	}
	w.run("form.outline")
	e.SetText("Clicked away from")
	w.flushing = true // as the window's loop does, which shows the new passage later
	w.session.SelectPassageAt(2)
	w.focusPanel(command.Grid)
	w.flush()
	c := w.session.Chart()
	if c.Passages[0].Name != "Clicked away from" || c.Passages[2].Name == "Clicked away from" {
		t.Errorf("the name goes to the wrong passage: %q, %q", c.Passages[0].Name, c.Passages[2].Name)
	}
	w.session.SelectPassageAt(0)
	w.run("form.outline")
	e.SetText("Second")
	w.focusPanel(command.Grid)
	if w.session.Passage().Name != "Second" {
		t.Error("leaving the field does not keep the name")
	}
}

// TestChoicesStepByArrows goes through the voicings and stops at both ends.
func TestChoicesStepByArrows(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("form.blocks")
	p := pickers(w)[0]
	for range len(p.options) {
		press(w, fyne.KeyLeft)
	}
	if w.session.Passage().Treatment.Voicing != theory.Close || p.chosen != 0 {
		t.Errorf("the first is %v", w.session.Passage().Treatment.Voicing)
	}
	press(w, fyne.KeyRight, fyne.KeyRight)
	if w.session.Passage().Treatment.Voicing != theory.Drop3 {
		t.Errorf("two steps on is %v", w.session.Passage().Treatment.Voicing)
	}
	for range len(p.options) {
		press(w, fyne.KeyRight)
	}
	if last := w.session.Passage().Treatment.Voicing; last != theory.UnisonVoicing {
		t.Errorf("the last is %v", last)
	}
	if w.win.Canvas().Focused() != fyne.Focusable(p) {
		t.Error("the field loses the keyboard")
	}
}

func TestTheFormTurnsItsPages(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("form.blocks")
	press(w, fyne.KeyPageDown, fyne.KeyPageDown)
	if w.bench.passage.part != 3 {
		t.Errorf("Page Down twice from blocks is part %d", w.bench.passage.part)
	}
	press(w, fyne.KeyPageUp)
	if w.bench.passage.part != 2 {
		t.Errorf("Page Up goes to part %d", w.bench.passage.part)
	}
	before := w.session.Playing()
	typeRunes(w, "p")
	if w.session.Playing() == before {
		t.Error("a field keeps the key of playing to itself")
	}
	w.run("view.bench")
	w.run("passage.treatment")
	if !w.bench.root.Visible() || w.bench.passage.part != 2 {
		t.Error("Ctrl E does not bring the form back where it was")
	}
}

// TestNothingInTheColumnIsCut compares every text of every page with the room it
// has, in the narrowest column.
func TestNothingInTheColumnIsCut(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1180, 720))
	inner := w.bench.body.Size().Width
	for _, part := range command.PassageSections() {
		w.run("form." + part)
		for _, o := range w.bench.passage.objects() {
			if l, ok := o.(*widget.Label); ok && l.Wrapping == fyne.TextWrapWord {
				continue
			}
			need := o.MinSize().Width
			if _, tight := o.(*button); tight {
				need -= 6 // of the room beside its label, where that keeps a row together
			}
			if need > o.Size().Width+1 {
				t.Errorf("%s: %s has %v, needs %v", part, nameOf(o), o.Size().Width, need)
			}
			if right := o.Position().X + need; right > inner-benchPad+1 {
				if _, typed := o.(*formEntry); !typed {
					t.Errorf("%s: %s needs up to %v of %v", part, nameOf(o), right, inner-benchPad)
				}
			}
		}
		for _, p := range pickers(w) {
			for i := range p.options {
				p.show(i)
				if need, has := p.MinSize().Width, p.Size().Width; need > has+1 {
					t.Errorf("%s: %q needs %v of %v", part, p.options[i], need, has)
				}
			}
		}
		w.bench.update()
	}
}

// TestTabVisitsTheForm walks from the form's tabs through its controls in the
// order they stand on the page.
func TestTabVisitsTheForm(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("form.harmony")
	y := float32(-1)
	for range len(pickers(w)) + len(toggles(w)) {
		o, ok := w.win.Canvas().Focused().(fyne.CanvasObject)
		if !ok {
			t.Fatal("nothing has the keyboard")
		}
		switch o.(type) {
		case *picker, *toggle:
		default:
			t.Fatalf("Tab goes to %T in the middle of the form", o)
		}
		if o.Position().Y <= y {
			t.Errorf("Tab goes up from %v to %v", y, o.Position().Y)
		}
		y = o.Position().Y
		top := w.bench.scroll.Offset.Y
		if y < top || y+o.Size().Height > top+w.bench.scroll.Size().Height {
			t.Errorf("the control at %v has the keyboard and is out of sight", y)
		}
		w.win.Canvas().(interface{ FocusNext() }).FocusNext()
	}
}

// TestTemplatesInTheWindow saves one, gives it to another passage, refuses a
// built-in name, keeps it for the next window, and deletes it.
func TestTemplatesInTheWindow(t *testing.T) {
	w := open(t, Options{Own: filepath.Join(t.TempDir(), "own.json")}, alwaysDark, fyne.NewSize(1280, 720))
	if err := w.session.SetVoicing(theory.Fourths); err != nil {
		t.Fatal(err)
	}
	if w.saveTemplate("intro") == nil || w.saveTemplate("  ") == nil {
		t.Error("a built-in name or none is accepted")
	}
	if err := w.saveTemplate("Quartal"); err != nil {
		t.Fatal(err)
	}
	w.session.SelectPassageAt(2)
	w.run("template.list")
	tapListed(t, w, "Apply", len(project.Templates()))
	if p := w.session.Passage(); p.Treatment.Voicing != theory.Fourths {
		t.Errorf("the template was not applied: %v", p.Treatment.Voicing)
	}
	w.run("edit.undo")
	if w.session.Passage().Treatment.Voicing == theory.Fourths {
		t.Error("undo does not take it back")
	}
	if list := nextWindow(t, w).templates(); list[len(list)-1].Name != "Quartal" {
		t.Error("the template is not there in the next window")
	}
	w.run("template.list")
	tapListed(t, w, "Delete", 0)
	if len(w.templates()) != len(project.Templates()) {
		t.Error("the template was not deleted")
	}
	press(w, fyne.KeyEscape)
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("Escape does not close the list")
	}
}

// buttonsOf returns the enabled buttons with a label in the dialog on top.
func buttonsOf(w *Window, label string) (out []*escButton) {
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		return nil
	}
	walk(top, func(o fyne.CanvasObject) {
		if b, ok := o.(*escButton); ok && strings.HasPrefix(b.Text, label) && !b.Disabled() {
			out = append(out, b)
		}
	})
	return out
}

// tapListed presses one of the dialog's buttons with a label.
func tapListed(t *testing.T, w *Window, label string, i int) {
	t.Helper()
	list := buttonsOf(w, label)
	if i >= len(list) {
		t.Fatalf("there are %d buttons %q, not %d", len(list), label, i+1)
	}
	test.Tap(list[i])
}
