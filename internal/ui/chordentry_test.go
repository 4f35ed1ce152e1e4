package ui

import (
	"image/color"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// TestChordsGoOnAsTheyAreTyped types a chord with the help of the list under the
// field, by the arrows and by a click.
func TestChordsGoOnAsTheyAreTyped(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	e := w.grid.entry
	shown := func() (symbols []string) {
		for _, l := range e.lines {
			if l.Visible() {
				symbols = append(symbols, l.symbol)
			}
		}
		return symbols
	}
	press(w, fyne.KeyReturn)
	if got := e.note.Text; !strings.Contains(got, "such as") {
		t.Errorf("where there is no chord the empty field says %q", got)
	}
	if got := shown(); len(got) > 0 {
		t.Errorf("before anything is typed %v are offered", got)
	}
	typeRunes(w, "g")
	list := shown()
	if len(list) != mostCompletions || list[0] != "G" {
		t.Fatalf("g goes on as %v", list)
	}
	press(w, fyne.KeyDown, fyne.KeyDown)
	if e.Text != list[1] || e.note.Text == "" || len(shown()) != len(list) {
		t.Errorf("two steps down the field has %q and the list %v", e.Text, shown())
	}
	press(w, fyne.KeyUp, fyne.KeyUp)
	if e.Text != "g" {
		t.Errorf("back at what was typed the field has %q", e.Text)
	}
	press(w, fyne.KeyDown, fyne.KeyDown, fyne.KeyTab)
	if got := w.session.ChordText(0); got != list[1] || e.at != project.Whole {
		t.Errorf("Tab wrote %q and went on to %d", got, e.at)
	}
	typeRunes(w, "Dm7b")
	if got := shown(); len(got) != 1 || got[0] != "Dm7b5" {
		t.Errorf("Dm7b goes on as %v", got)
	}
	line := e.lines[0]
	line.MouseDown(nil)
	e.FocusLost() // as the driver does after a press elsewhere
	line.MouseUp(nil)
	line.Tapped(nil)
	if got := w.session.ChordText(project.Whole); got != "Dm7b5" || e.root.Visible() || w.win.Canvas().Focused() != w.grid {
		t.Errorf("a click wrote %q", got)
	}
	w.session.SetCaret(0)
	press(w, fyne.KeyReturn, fyne.KeyDown)
	if got := shown(); len(got) != mostCompletions || got[0] != list[1] {
		t.Errorf("from the symbol that stands there the arrows go on to %v", got)
	}
	press(w, fyne.KeyEscape)
	typeUnreadAndLeave(t, w)
	if w.session.Undo(); w.session.ChordText(project.Whole) != "" {
		t.Error("one undo does not take the click back")
	}
}

// typeUnreadAndLeave types what is no chord and clicks elsewhere: it waits for the
// field to open there again, until it is left by Escape.
func typeUnreadAndLeave(t *testing.T, w *Window) {
	t.Helper()
	e, at := w.grid.entry, 2*project.Whole
	opens := func(want string) {
		t.Helper()
		w.session.SetCaret(at)
		if press(w, fyne.KeyReturn); e.Text != want {
			t.Errorf("the field opens with %q, not %q", e.Text, want)
		}
	}
	opens("")
	typeRunes(w, "Gm7x")
	w.win.Canvas().Focus(w.grid)
	if e.root.Visible() || w.session.ChordText(at) != "" {
		t.Error("what cannot be read was written")
	}
	if opens("Gm7x"); e.mark.FillColor == color.Transparent {
		t.Error("the mistake is not marked again")
	}
	press(w, fyne.KeyEscape)
	opens("")
	press(w, fyne.KeyEscape)
}

// TestASymbolUnderThePointerSaysWhatItMeans points at the demo's second symbol, in
// both languages, and at a bare place of the row.
func TestASymbolUnderThePointerSaysWhatItMeans(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	say := func(at project.Ticks) string {
		g := w.grid
		_, x := g.layout.X(at)
		e := &desktop.MouseEvent{}
		e.Position = fyne.NewPos(float32(x)+20, float32(g.layout.Systems[0].Chords.CentreY()))
		g.MouseMoved(e)
		return tr(w.status.hinted)
	}
	second := w.session.Chart().Changes[1]
	if got, want := say(second.Start), second.Chord.Pretty()+": E G B♭ D · family G minor"; !strings.HasPrefix(got, want) || !strings.HasSuffix(got, "click to change it") {
		t.Errorf("over %s it says %q", second.Chord, got)
	}
	if got := say(3 * project.Quarter); got != "click to type a chord" {
		t.Errorf("beside a symbol it says %q", got)
	}
	w.SetLanguage("de")
	defer w.SetLanguage("en")
	if got := say(second.Start); !strings.HasSuffix(got, "Klick ändert ihn") || strings.Contains(got, "family") {
		t.Errorf("in German over %s it says %q", second.Chord, got)
	}
}

// shortcutFor is the toolkit's form of a stroke with Ctrl or Alt, as it arrives.
func shortcutFor(k command.Stroke) fyne.Shortcut {
	clip := fyne.CurrentApp().Clipboard()
	for _, s := range []fyne.Shortcut{
		&fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}, &fyne.ShortcutCut{Clipboard: clip}, &fyne.ShortcutCopy{Clipboard: clip}, &fyne.ShortcutPaste{Clipboard: clip}, &fyne.ShortcutSelectAll{},
	} {
		if strokeOfShortcut(s) == k {
			return s
		}
	}
	if s := customShortcut(k); s != nil {
		return s
	}
	return nil
}

// TestKeysWithCtrlAndAltWorkWhileAChordIsTyped presses each of them, and the function
// keys, behind a chord: the field keeps those that edit text, and of all others the
// command runs once the chord is written and the grid has the keyboard.
func TestKeysWithCtrlAndAltWorkWhileAChordIsTyped(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	e := w.grid.entry
	kept := []command.Stroke{
		"Ctrl+z", "Ctrl+y", "Ctrl+x", "Ctrl+c", "Ctrl+v", "Ctrl+a", "Ctrl+Left", "Ctrl+Right", "Ctrl+Shift+Left", "Ctrl+Shift+Right", "Ctrl+Up", "Ctrl+Down",
		"Ctrl+Delete", "Ctrl+Backspace", "Alt+Left", "Alt+Right", "Alt+Up", "Alt+Down", "Alt+Home", "Ctrl+Alt+Up", "Ctrl+Alt+Down",
		"Alt+Shift+Up", "Alt+Shift+Down", "Alt+Shift+Left", "Alt+Shift+Right", "F1",
	}
	ran, written := "", ""
	var strokes []command.Stroke
	for _, c := range w.commands.All() {
		if c.In != command.Anywhere && c.In != command.Grid {
			continue
		}
		c.Applies, c.Do = nil, func(command.Env) error { ran, written = c.ID, w.session.ChordText(0); return nil }
		for _, k := range c.Keys {
			if shortcutFor(k) != nil || isFunctionKey(fyne.KeyName(k)) {
				strokes = append(strokes, k)
			}
		}
	}
	for _, k := range strokes {
		w.session.Open(project.New(), "")
		w.focusPanel(command.Grid)
		w.TypeChord()
		typeRunes(w, "G7")
		ran, written = "", ""
		if s := shortcutFor(k); s != nil {
			e.TypedShortcut(s)
		} else {
			press(w, fyne.KeyName(k))
		}
		open := w.win.Canvas().Focused() == e && e.root.Visible()
		if slices.Contains(kept, k) {
			if ran != "" || !open && k != "F1" {
				t.Errorf("%s runs %q, and the field is open: %v", k, ran, open)
			}
		} else if c := w.commands.ForKey(command.Grid, k); ran != c.ID || written != "G7" || open || w.win.Canvas().Focused() != w.grid {
			t.Errorf("%s runs %q and not %s with the chord %q, and the field is open: %v", k, ran, c.ID, written, open)
		}
	}
	if len(strokes) < 70 {
		t.Errorf("only %d keys were pressed", len(strokes))
	}
}

// TestAChordThatCannotBeReadIsKeptWhenACommandIsRun from the field.
func TestAChordThatCannotBeReadIsKeptWhenACommandIsRun(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.TypeChord()
	typeRunes(w, "Q")
	w.grid.entry.TypedShortcut(shortcutFor("Ctrl+4"))
	if w.win.Canvas().Focused() != w.console || !strings.Contains(w.session.Message(), "waits here to be mended") {
		t.Errorf("the console has no keyboard, or the window says %q", w.session.Message())
	}
	w.saveTo(filepath.Join(t.TempDir(), "tune.organbook"), func() {})
	if w.session.Dirty() || !strings.Contains(w.session.Message(), "waits here to be mended") {
		t.Errorf("when the chart is saved the window says %q", w.session.Message())
	}
	w.focusPanel(command.Grid)
	w.TypeChord()
	if w.grid.entry.Text != "Q" {
		t.Errorf("the field opens again with %q", w.grid.entry.Text)
	}
	press(w, fyne.KeyEscape)
}
