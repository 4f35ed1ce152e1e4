package ui

import (
	"slices"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/arrange"
	"organbook/internal/ui/command"
)

// TestAPanelHasTheKeyboardAgainAfterADialog opens and closes what can lie over
// the window: the keys of the console must not write notes afterwards.
func TestAPanelHasTheKeyboardAgainAfterADialog(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for _, p := range []struct {
		panel command.Panel
		has   fyne.Focusable
	}{{command.Console, w.console}, {command.Bench, w.bench}, {command.Strip, w.strip}, {command.Grid, w.grid}} {
		for _, id := range []string{"help.commands", "template.list", "passage.rename", "play.rampform"} {
			c := w.commands.Find(id)
			if c == nil {
				t.Fatalf("there is no command %q", id)
			}
			w.focusPanel(p.panel)
			w.do(c)
			if w.win.Canvas().Overlays().Top() == nil {
				t.Fatalf("%s opens nothing", id)
			}
			press(w, fyne.KeyEscape)
			if w.win.Canvas().Overlays().Top() != nil || w.win.Canvas().Focused() != p.has {
				t.Errorf("after %s the keyboard is not in the %s", id, p.panel)
			}
		}
	}
	w.TypeChord()
	w.ListCommands()
	press(w, fyne.KeyEscape)
	if w.win.Canvas().Focused() != fyne.Focusable(w.grid) {
		t.Error("after a chord was left for the list, the grid does not have the keyboard")
	}
}

// TestADialogTakesKeysAfterAClickBesideItsButtons takes the keyboard away, as
// the toolkit does at such a click.
func TestADialogTakesKeysAfterAClickBesideItsButtons(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for _, id := range []string{"help.commands", "passage.rename", "template.list"} {
		w.do(w.commands.Find(id))
		w.win.Canvas().Unfocus()
		w.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
		if w.win.Canvas().Overlays().Top() != nil {
			t.Fatalf("%s does not close on Escape after a click", id)
		}
	}
	before := len(w.session.Chart().Melody)
	w.do(w.commands.Find("passage.rename"))
	w.win.Canvas().Unfocus()
	w.win.Canvas().OnTypedRune()('c')
	typed := w.win.Canvas().Focused().(*escEntry).Text
	press(w, fyne.KeyEscape)
	if len(w.session.Chart().Melody) != before || typed == "" {
		t.Errorf("a letter after a click beside the line went elsewhere; the line holds %q", typed)
	}
}

// TestPlayedStepsKeepTheKeyboardInTheGrid clicks a drawn key with and without
// step entry: the space bar must leave a rest after it.
func TestPlayedStepsKeepTheKeyboardInTheGrid(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	at := fyne.Position{}
	for x := float32(0); x < w.console.Size().Width; x += 5 {
		p := fyne.NewPos(x, w.console.keys.raster.Position().Y+10)
		if d, _, ok := w.console.keyAt(p); ok && d == arrange.Upper {
			at = p
			break
		}
	}
	click := func() {
		e := &desktop.MouseEvent{}
		e.Position = at
		w.console.MouseDown(e)
		w.console.MouseUp(e)
	}
	click()
	if w.win.Canvas().Focused() != fyne.Focusable(w.console) {
		t.Error("a click on a key does not give the console the keyboard")
	}
	w.session.ToggleStepEntry()
	click()
	caret := w.session.Selection().Caret
	typeRunes(w, " ")
	if w.session.Selection().Caret == caret {
		t.Error("the space bar leaves no rest after a key was clicked in step entry")
	}
}

// TestKeysOfTheWindowWorkFromALineOfText goes to another page from the name of
// the passage, and does not while the key moves in the text.
func TestKeysOfTheWindowWorkFromALineOfText(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.bench.passage.turn(0)
	line, ok := w.win.Canvas().Focused().(*formEntry)
	if !ok {
		t.Fatalf("the form starts with %T", w.win.Canvas().Focused())
	}
	line.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyLeft, Modifier: fyne.KeyModifierControl})
	if w.win.Canvas().Focused() != fyne.Focusable(line) {
		t.Error("Ctrl and the arrow leave the line")
	}
	line.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.Key6, Modifier: fyne.KeyModifierControl})
	if w.bench.page != command.Reach {
		t.Error("Ctrl+6 does not go to the reach from a line of text")
	}
}

// TestTheListSaysThatNothingWasFound searches by a word that no title has, and
// for what no command does.
func TestTheListSaysThatNothingWasFound(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	l := w.openList()
	for _, c := range []struct {
		query string
		found bool
	}{{"theme", true}, {"xyzzy", false}, {"metronome", true}} {
		l.field.SetText(c.query)
		if len(l.found) > 0 != c.found || l.none.Visible() == c.found {
			t.Errorf("%q finds %d commands; the remark that there are none is shown: %v", c.query, len(l.found), l.none.Visible())
		}
	}
}

// TestLayersShowWhatIsHeard mutes a layer by its button, and hears it alone by
// a right click.
func TestLayersShowWhatIsHeard(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	lit := func() (out []bool) {
		for _, b := range w.console.layers {
			out = append(out, b.on)
		}
		return out
	}
	bass := w.console.layers[4]
	for _, c := range []struct {
		what string
		do   func()
		want []bool
	}{
		{"a click", func() { bass.Tapped(nil) }, []bool{true, true, true, true, false}},
		{"a right click", func() { bass.TappedSecondary(nil) }, []bool{false, false, false, false, true}},
		{"another", func() { bass.TappedSecondary(nil) }, []bool{true, true, true, true, false}},
		{"a click", func() { bass.Tapped(nil) }, []bool{true, true, true, true, true}},
	} {
		c.do()
		if got := lit(); !slices.Equal(got, c.want) {
			t.Errorf("after %s the buttons show %v, want %v", c.what, got, c.want)
		}
	}
}
