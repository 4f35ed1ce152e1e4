package ui

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/arrange"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// TestTakesFromTheirList makes a take, uses the other one, names and deletes it,
// all from the list, and takes everything back.
func TestTakesFromTheirList(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	first := w.session.Chart()
	w.run("take.list")
	if len(buttonsOf(w, "Use")) != 0 {
		t.Error("one arrangement offers a take to use")
	}
	tapListed(t, w, "Make a take", 0)
	if names, at := w.session.Takes(); len(names) != 2 || at != 1 {
		t.Fatalf("takes %v, %d in use", names, at)
	}
	if n := len(buttonsOf(w, "Use")); n != 1 {
		t.Errorf("%d of two takes can be used", n)
	}
	use := buttonsOf(w, "Use")[0]
	w.win.Canvas().Focus(use)
	press(w, fyne.KeyReturn)
	if w.session.TakeName() != "Take 1" {
		t.Errorf("%q is in use", w.session.TakeName())
	}
	if w.win.Canvas().Focused() == nil || w.win.Canvas().Overlays().Top() == nil {
		t.Error("the list loses the keyboard after a button")
	}
	tapListed(t, w, "Name…", 1)
	typeRunes(w, "Brass")
	press(w, fyne.KeyReturn)
	if names, _ := w.session.Takes(); names[1] != "Brass" {
		t.Errorf("takes %v", names)
	}
	if len(buttonsOf(w, "Delete")) != 2 {
		t.Fatal("naming does not come back to the list")
	}
	tapListed(t, w, "Delete", 1)
	if names, _ := w.session.Takes(); len(names) != 1 || w.session.TakeName() != "Take 1" || len(buttonsOf(w, "Delete")) != 0 {
		t.Errorf("after deleting the one that is not in use: %v, %q in use", names, w.session.TakeName())
	}
	press(w, fyne.KeyEscape)
	if w.win.Canvas().Overlays().Top() != nil || w.win.Canvas().Focused() != w.grid {
		t.Error("Escape does not go back to the grid")
	}
	for w.session.CanUndo() {
		w.run("edit.undo")
	}
	if !w.session.Chart().Equal(first) {
		t.Error("undoing does not bring the first chart back")
	}
}

// TestComparingFromTheList plays the other take first, changes over at the same
// place, says which is heard, and stops when the list closes.
func TestComparingFromTheList(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("take.make")
	if err := w.session.SetVoicing(theory.Close); err != nil {
		t.Fatal(err)
	}
	chart := w.session.Chart()
	w.run("take.list")
	tapListed(t, w, "Compare", 0)
	if name, on := w.session.Comparing(); !on || name != "Take 1" || !sound.playing {
		t.Fatalf("hears %q: %v", name, on)
	}
	if card := w.strip.cards[0].says; card.sound[0] != "hearing Take 1" {
		t.Errorf("the card says %v", card.sound)
	}
	if w.grid.shows() != w.session.Sounding() || w.grid.shows() == w.session.Realisation() {
		t.Error("the grid does not show the take that is heard")
	}
	stop := make(chan struct{})
	w.ticking = true
	sound.at += 1.5
	w.tick(stop)
	first := litKeys(w)
	tapListed(t, w, "Change over", 0)
	if name, _ := w.session.Comparing(); name != "Take 2" || sound.at < 1.4 {
		t.Errorf("hears %q at %v s", name, sound.at)
	}
	w.tick(stop)
	if second := litKeys(w); first == "" || first == second {
		t.Errorf("the console lights %s for both takes", first)
	}
	w.ticking = false
	if !strings.Contains(w.list.said.Text, "Take 2") {
		t.Errorf("the list says %q", w.list.said.Text)
	}
	press(w, fyne.KeyEscape)
	if w.grid.shows() != w.session.Realisation() {
		t.Error("the grid does not come back to the take in use")
	}
	if sound.playing || w.session.IsComparing() || w.session.Chart() != chart {
		t.Error("closing the list does not stop the comparison, or changed the chart")
	}
}

// TestComparingOffersToChangeOver compares from the form of the passage, where
// changing over must come within reach and go with the comparison.
func TestComparingOffersToChangeOver(t *testing.T) {
	w := open(t, Options{Sound: &tape{}}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("take.make")
	w.run("passage.treatment")
	w.bench.passage.turn(len(w.bench.passage.parts) - 1)
	over := func() *button {
		var found *button
		for _, o := range w.bench.passage.objects() {
			if b, ok := o.(*button); ok && b.label == "change over" {
				found = b
			}
		}
		if found == nil {
			t.Fatal("the form has no button to change over")
		}
		return found
	}
	for _, want := range []bool{true, false, true} {
		if over().Disabled() != want {
			t.Errorf("comparing %v: changing over is off: %v", w.session.IsComparing(), !want)
		}
		w.run("take.compare")
	}
}

// TestProposalsAreHeardBeforeTheyAreKept hears one, looks at others, keeps one
// and takes it back.
func TestProposalsAreHeardBeforeTheyAreKept(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	chart := w.session.Chart()
	w.run("take.proposals")
	n := len(buttonsOf(w, "Hear"))
	if n == 0 {
		t.Fatal("no proposals")
	}
	offers := w.session.Proposals(0)
	tapListed(t, w, "Hear", 0)
	if name, on := w.session.Comparing(); !on || name != offers[0].Name || w.session.Chart() != chart || !sound.playing {
		t.Errorf("hears %q: %v", name, on)
	}
	sound.at += 0.5
	tapListed(t, w, "Change over", 0)
	if name, _ := w.session.Comparing(); name != "as it is" {
		t.Errorf("changing over hears %q", name)
	}
	tapListed(t, w, "Stop", 0)
	if sound.playing {
		t.Error("Stop does not stop")
	}
	tapListed(t, w, "Others", 0)
	if len(buttonsOf(w, "Keep")) == 0 {
		t.Fatal("there are no others")
	}
	tapListed(t, w, "Keep", 0)
	kept := w.session.Passage()
	if len(kept.Takes) != 2 || kept.TakeName() == "" {
		t.Errorf("kept %q of %d takes", kept.TakeName(), len(kept.Takes))
	}
	for _, o := range offers {
		if o.Treatment == kept.Treatment {
			t.Errorf("Others shows %q again", o.Says)
		}
	}
	if w.win.Canvas().Overlays().Top() != nil {
		t.Error("keeping one does not close the list")
	}
	w.run("edit.undo")
	if !w.session.Chart().Equal(chart) {
		t.Error("one undo does not take the kept proposal back")
	}
}

// TestListsFitASmallWindow opens each list in the smallest window.
func TestListsFitASmallWindow(t *testing.T) {
	w := open(t, Options{}, alwaysDark, leastSize)
	w.run("take.make")
	for _, id := range []string{"take.list", "take.proposals", "template.list"} {
		w.run(id)
		top := w.win.Canvas().Overlays().Top().(*widget.PopUp)
		if s := top.Content.MinSize(); s.Width > leastSize.Width || s.Height > leastSize.Height {
			t.Errorf("%s needs %v of %v", id, s, leastSize)
		}
		press(w, fyne.KeyEscape)
	}
}

// TestThePickerOfTakes switches takes from the passage form.
func TestThePickerOfTakes(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("form.takes")
	for _, o := range w.bench.passage.objects() {
		if b, ok := o.(*button); ok && b.label == "make a take" {
			b.Tapped(nil)
		}
	}
	p := pickers(w)[0]
	if len(p.options) != 2 || p.chosen != 1 {
		t.Fatalf("the picker shows %v, %d chosen", p.options, p.chosen)
	}
	w.win.Canvas().Focus(p)
	press(w, fyne.KeySpace, fyne.KeyUp, fyne.KeyReturn)
	if w.session.TakeName() != "Take 1" || p.chosen != 0 {
		t.Errorf("%q is in use", w.session.TakeName())
	}
	if card := w.strip.cards[0].says; !strings.Contains(card.sound[0], "take 1 of 2") {
		t.Errorf("the card says %v", card)
	}
}

// TestTheBenchOnASelectionByKeys walks, pins and unpins several notes from the
// bench, and filters what it lists.
func TestTheBenchOnASelectionByKeys(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	w.session.SelectBars(0, 1)
	n := len(w.session.SelectedIndexes())
	w.FocusPanel(command.Bench)
	if !w.bench.note.several || !strings.HasPrefix(w.bench.note.heading.Text, "10 notes") && n == 10 {
		t.Fatalf("the bench shows %q for %d notes", w.bench.note.heading.Text, n)
	}
	press(w, fyne.KeyDown, fyne.KeyReturn)
	_, list, _ := w.session.Group()
	if pins := len(w.session.Chart().Pins); pins == 0 || pins > n || len(list) < 4 {
		t.Errorf("%d pins for %d notes, %d ways", pins, n, len(list))
	}
	press(w, fyne.KeyDelete)
	if len(w.session.Chart().Pins) != 0 {
		t.Error("Delete leaves pins")
	}
	w.run("filter.voicing.drop2")
	if !strings.Contains(w.bench.note.filter.Text, "drop 2") {
		t.Errorf("the filter says %q", w.bench.note.filter.Text)
	}
	w.session.SelectNote(3, false)
	for _, r := range w.bench.note.rows[:w.bench.note.listed] {
		if r.is.block.Voicing != theory.Drop2 {
			t.Errorf("%v is listed", r.is.block.Voicing)
		}
	}
	typeRunes(w, "x")
	if w.bench.note.filter.Text != "" || w.bench.note.listed < 6 {
		t.Errorf("x lists %d blocks, filter %q", w.bench.note.listed, w.bench.note.filter.Text)
	}
	before := w.session.Chart()
	w.session.SelectAll()
	if w.session.Chart() != before {
		t.Error("looking changes the chart")
	}
}

// TestTheBenchListsFamilies compares what the bench says with the analysis: a
// dominant has several families, each with its sound and reason.
func TestTheBenchListsFamilies(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	most := 0
	for i := range w.session.Chart().Melody[:40] {
		w.session.SelectNote(i, false)
		f, list := w.bench.note.families, w.session.Families()
		if f.listed != len(list) {
			t.Fatalf("note %d: %d of %d families are listed", i, f.listed, len(list))
		}
		most = max(most, f.listed)
		for k := range list {
			if !strings.Contains(f.names[k].Text, "sounds as") || f.whys[k].Text == "" {
				t.Errorf("note %d: family %q has no sound or reason", i, f.names[k].Text)
			}
		}
	}
	if most < 2 {
		t.Error("no chord of the demo has two families")
	}
	w.session.SelectBars(0, 1)
	if w.bench.note.families.listed != 0 {
		t.Error("several notes list the families of one")
	}
}

// TestGoldenPassages keeps pictures of the passage form, the strip, the lists of
// takes, proposals, templates and own registrations, and the bench for one note and for several.
func TestGoldenPassages(t *testing.T) {
	for name, mode := range map[string]themeMode{"dark": alwaysDark, "light": alwaysLight} {
		if raceDetector && mode == alwaysLight {
			continue
		}
		w := open(t, Options{}, mode, fyne.NewSize(1280, 720))
		picture := func(what string, o fyne.CanvasObject) { compareGolden(t, what+"-"+name+".png", crop(w, o)) }
		for _, part := range command.PassageSections() {
			w.run("form." + part)
			w.focusPanel(command.Grid)
			picture("form-"+part, w.bench.root)
		}
		w.run("take.make")
		w.run("voicing.close")
		picture("strip", w.strip)
		w.run("form.takes")
		picture("form-takes-two", w.bench.root)
		w.run("take.list")
		picture("takes", w.win.Content())
		press(w, fyne.KeyEscape)
		w.focusPanel(command.Grid)
		w.run("take.proposals")
		picture("proposals", w.win.Content())
		press(w, fyne.KeyEscape)
		w.session.SelectBars(2, 3)
		w.run("template.list")
		picture("templates", w.win.Content())
		press(w, fyne.KeyEscape)
		w.focusPanel(command.Grid)
		picture("registrations", ownRegistrationsShown(t, w))
		press(w, fyne.KeyEscape)
		w.FocusPanel(command.Bench)
		press(w, fyne.KeyDown)
		picture("bench-selection", w.bench.root)
		w.session.SelectNote(6, false)
		press(w, fyne.KeyDown)
		picture("bench-note", w.bench.root)
		w.run("bench.costs")
		w.run("filter.voicing.drop2")
		w.run("filter.reach.in-comfort")
		picture("bench-filter", w.bench.root)
	}
}

// litKeys lists the lit keys of the upper manual.
func litKeys(w *Window) string {
	var keys []string
	for _, k := range w.console.lit {
		if k.Division == arrange.Upper {
			keys = append(keys, fmt.Sprint(k.Key))
		}
	}
	return strings.Join(keys, " ")
}
