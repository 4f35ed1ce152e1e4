package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// TestTheStatusLineAnswersAndRests holds that every command answers, also one that
// changes nothing, and that the answer goes at the next action or after a while.
func TestTheStatusLineAnswersAndRests(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	shown := func() string { return w.status.message.Text }
	if !strings.Contains(shown(), "Demo chart") {
		t.Fatalf("at the start it says %q", shown())
	}
	w.run("bench.right")
	if !strings.HasSuffix(shown(), "selected") {
		t.Errorf("after a step it says %q", shown())
	}
	w.run("note.even") // asks for several notes
	if !strings.HasPrefix(shown(), "Nothing to do here: Spread the selected notes evenly") {
		t.Errorf("a command that does not apply says %q", shown())
	}
	notes := w.session.Chart().Melody
	w.session.SelectNote(len(notes)-1, false)
	w.session.Say("")
	if err := w.session.SetHead(w.session.Chart().Title, w.session.Chart().Composer, w.session.Chart().Console); err != nil {
		t.Fatal(err)
	}
	if shown() != "Nothing to change: it is so already." {
		t.Errorf("a form that changes nothing says %q", shown())
	}
	before := w.status.since
	w.session.Say("Later.")
	if w.status.expire(before); shown() != "Later." {
		t.Errorf("the end of the message before takes this one: %q", shown())
	}
	if w.status.expire(w.status.since); !strings.HasSuffix(shown(), "selected") {
		t.Errorf("after a while it says %q", shown())
	}
	w.soundSaid = "no sound device"
	w.session.Say(w.soundLine())
	if w.run("bench.right"); !strings.HasPrefix(shown(), "No sound device") {
		t.Errorf("without sound, after an action, it says %q", shown())
	}
}
