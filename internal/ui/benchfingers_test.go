package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/ui/command"
)

// TestFingersAreSetByKeyAndByMouse gives two keys of a block fingers of one's
// own and takes them back.
func TestFingersAreSetByKeyAndByMouse(t *testing.T) {
	w := open(t, Options{Chart: tooWide(t)}, alwaysDark, fyne.NewSize(1280, 720))
	w.session.SelectNote(0, false)
	w.FocusPanel(command.Bench)
	row := w.bench.note.fingers
	if !row.shown() {
		t.Fatal("the bench has no row of fingers")
	}
	before, keys := w.session.Chart(), w.session.FingerKeys()
	w.run("finger.next")
	w.run("finger.4")
	if got := w.session.Chart().FingerOf(0, keys[1].Key); got != 4 {
		t.Errorf("by key the second key has finger %d", got)
	}
	if !row.digits[3].on || row.free.off {
		t.Errorf("the row does not show the finger: %v, free is off: %v", row.digits[3].on, row.free.off)
	}
	row.digits[2].Tapped(nil)
	if got := w.session.Chart().FingerOf(0, keys[1].Key); got != 3 {
		t.Errorf("by mouse the second key has finger %d", got)
	}
	row.free.Tapped(nil)
	if len(w.session.Chart().Fingerings) != 0 {
		t.Error("free left a finger behind")
	}
	for range 3 {
		w.run("edit.undo")
	}
	if !w.session.Chart().Equal(before) {
		t.Error("undo did not take the fingers back")
	}
}

// TestThePlayersFormSaysForWhom keeps a player in the chart, and gives it up.
func TestThePlayersFormSaysForWhom(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	f := newPlayerFields(w.session.Performer())
	f.own.SetChecked(true)
	f.right.SetText("8th–9th")
	if err := w.takePlayer(f); err != nil {
		t.Fatal(err)
	}
	p := w.session.Performer()
	if p.Hands[reach.RightHand] != (reach.Stretch{Comfortable: reach.Naturals(8), Maximal: reach.Naturals(9)}) || p.Name != ownHands {
		t.Errorf("the chart's player is %+v", p)
	}
	if w.player() != reach.DefaultProfile() || !w.session.HasOwnPlayer() {
		t.Error("the chart's player is kept for all charts")
	}
	f = newPlayerFields(w.session.Performer())
	f.own.SetChecked(false)
	f.size.SetSelectedIndex(3) // large
	if err := w.takePlayer(f); err != nil {
		t.Fatal(err)
	}
	if w.session.HasOwnPlayer() || w.session.Performer().Name != "large" || w.player().Name != "large" {
		t.Errorf("the chart is for %s, kept is %s", w.session.Performer().Name, w.player().Name)
	}
	f.right.SetText("9th")
	if err := w.takePlayer(f); err == nil {
		t.Error("half a stretch was taken")
	}
}
