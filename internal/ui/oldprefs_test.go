package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/ui/command"
)

// nextWindow opens another window of the same program on the same files.
func nextWindow(t *testing.T, w *Window) *Window {
	t.Helper()
	again := made(t, w.app, Options{Own: w.opts.Own})
	t.Cleanup(again.win.Close)
	return again
}

// TestWhatThePreferencesHeldMovesToTheShelf once, and what cannot be read stays
// where it is.
func TestWhatThePreferencesHeldMovesToTheShelf(t *testing.T) {
	app := test.NewTempApp(t)
	own := project.Registrations()[3]
	own.Name = "Sunday"
	text, err := project.EncodeRegistrations([]project.Registration{own})
	if err != nil {
		t.Fatal(err)
	}
	app.Preferences().SetString("registrations", string(text))
	app.Preferences().SetString("templates", "{broken")
	app.Preferences().SetStringList("own keys", []string{"bar.append"})
	app.Preferences().SetString("keys of bar.append", "Alt+g")
	app.Preferences().SetString("player", `{"Name":"own","Hands":[{"Comfortable":150,"Maximal":190},{"Comfortable":150,"Maximal":190}],"Speed":0.8}`)
	w := made(t, app, Options{Chart: project.New(), Own: filepath.Join(t.TempDir(), "own.json")})
	t.Cleanup(w.win.Close)
	for range 2 {
		if list := w.ownRegistrations(); len(list) != 1 || list[0] != own {
			t.Errorf("registrations: %+v", list)
		}
		if c := w.commands.ForKey(command.Grid, "Alt+g"); c == nil || c.ID != "bar.append" {
			t.Error("the key is gone")
		}
		if p := w.session.Performer(); p.Hands[0] != (reach.Stretch{Comfortable: 150, Maximal: 190}) || p.Speed != 0.8 {
			t.Errorf("the player is %+v", p)
		}
		if app.Preferences().String("templates") != "{broken" {
			t.Error("what could not be read is gone")
		}
		app.Preferences().SetString("registrations", "") // not looked at again
		w = nextWindow(t, w)
	}
	if err := os.Remove(w.opts.Own); err != nil {
		t.Fatal(err)
	}
	if again := nextWindow(t, w); len(again.shelf.Now().Keys) != 0 {
		t.Error("what was thrown away comes back from the preferences")
	}
}

// TestWhatThePreferencesHeldMovesLater when the file could not be written at
// first.
func TestWhatThePreferencesHeldMovesLater(t *testing.T) {
	app := test.NewTempApp(t)
	app.Preferences().SetStringList("own keys", []string{"bar.append"})
	app.Preferences().SetString("keys of bar.append", "Alt+g")
	folder := filepath.Join(t.TempDir(), "organbook")
	if err := os.WriteFile(folder, nil, 0o644); err != nil { // in its way
		t.Fatal(err)
	}
	for _, kept := range []bool{false, true} {
		w := made(t, app, Options{Chart: project.New(), Own: filepath.Join(folder, "own.json")})
		t.Cleanup(w.win.Close)
		if (w.shelfError == nil) != kept {
			t.Errorf("the window says %v", w.shelfError)
		}
		if c := w.commands.ForKey(command.Grid, "Alt+g"); c == nil || c.ID != "bar.append" {
			t.Errorf("the key is gone, kept: %v", kept)
		}
		if err := os.Remove(folder); !kept && err != nil {
			t.Fatal(err)
		}
	}
}

// TestADamagedShelfIsSaid opens a window on a file that was cut off: the window
// says so and works, and nothing of the file is lost.
func TestADamagedShelfIsSaid(t *testing.T) {
	path := filepath.Join(t.TempDir(), "own.json")
	const broken = `{"format":"organbook-own","version":1,"registrations":[{"name":"x"`
	if err := os.WriteFile(path, []byte(broken), 0o644); err != nil {
		t.Fatal(err)
	}
	w := open(t, Options{Own: path}, alwaysDark, fyne.NewSize(1280, 720))
	if said := dialogText(w); !strings.Contains(said, "cannot be read") || !strings.Contains(said, "own.json.damaged-1") {
		t.Errorf("the window says %q", said)
	}
	press(w, fyne.KeyReturn)
	saveNow(t, w, "Sunday")
	if kept, _ := os.ReadFile(path + ".damaged-1"); string(kept) != broken {
		t.Errorf("put aside: %q", kept)
	}
	if list := nextWindow(t, w).ownRegistrations(); len(list) != 1 || list[0].Name != "Sunday" {
		t.Errorf("the next window has %+v", list)
	}
}

// TestTwoWindowsKeepEachOthersEntries: each saves, renames and deletes with what
// it read at its start.
func TestTwoWindowsKeepEachOthersEntries(t *testing.T) {
	one := open(t, Options{Own: filepath.Join(t.TempDir(), "own.json")}, alwaysDark, fyne.NewSize(1280, 720))
	two := nextWindow(t, one)
	saveNow(t, one, "a")
	saveNow(t, two, "b")
	saveNow(t, one, "c")
	if err := two.dropRegistration("b"); err != nil {
		t.Fatal(err)
	}
	if err := one.restoreRegistrations(); err != nil { // takes c back
		t.Fatal(err)
	}
	if err := two.saveTemplate("T"); err != nil {
		t.Fatal(err)
	}
	if err := one.rebind("bar.append", []command.Stroke{"Alt+g"}); err != nil {
		t.Fatal(err)
	}
	last := nextWindow(t, one)
	if names := ownNames(last); len(names) != 1 || names[0] != "a" {
		t.Errorf("kept %v", names)
	}
	if c := last.shelf.Now(); len(c.Templates) != 1 || len(c.Keys) != 1 {
		t.Errorf("kept %+v", c)
	}
}
