package ui

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"organbook/internal/project"
	"organbook/internal/ui/command"
)

func TestKeysAreChangedAndRemembered(t *testing.T) {
	app := test.NewTempApp(t)
	w := made(t, app, Options{Chart: project.New(), Own: filepath.Join(t.TempDir(), "own.json")})
	w.win.Resize(fyne.NewSize(1280, 720))
	w.Show()
	t.Cleanup(w.win.Close)
	w.ListCommands()
	typeRunes(w, "add four bars")
	press(w, fyne.KeyF5)
	catcher, ok := w.win.Canvas().Focused().(*keyCatcher)
	if !ok {
		t.Fatal("no key is asked for")
	}
	catcher.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyS, Modifier: fyne.KeyModifierControl})
	if said := dialogText(w); !strings.Contains(said, "Save") {
		t.Errorf("a key that is taken: %q", said)
	}
	catcher.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyG, Modifier: fyne.KeyModifierAlt})
	if dialogText(w) != "" {
		t.Error("the question stays")
	}
	bars := len(w.session.Chart().Bars)
	w.win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(customShortcut("Alt+g"))
	if len(w.session.Chart().Bars) != bars+4 {
		t.Error("the new key does nothing")
	}
	again := nextWindow(t, w)
	if c := again.commands.ForKey(command.Grid, "Alt+g"); c == nil || c.ID != "bar.append" {
		t.Error("the key is forgotten in the next run")
	}
	if err := again.rebind("bar.append", again.commands.Usual("bar.append")); err != nil || len(again.shelf.Now().Keys) != 0 {
		t.Errorf("the usual key: %v, still own %v", err, again.shelf.Now().Keys)
	}
}

// TestATakenKeyIsNamedAsOnTheKeyboard refuses a key in German, with the key and the
// command that has it in German.
func TestATakenKeyIsNamedAsOnTheKeyboard(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	w.changeKey(w.commands.Find("bar.append"))
	catcher, ok := w.win.Canvas().Focused().(*keyCatcher)
	if !ok {
		t.Fatal("no key is asked for")
	}
	catcher.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyZ, Modifier: fyne.KeyModifierControl})
	if said := dialogText(w); !strings.Contains(said, "Strg Z bedeutet schon „Rückgängig“") {
		t.Errorf("a key that is taken: %q", said)
	}
}
