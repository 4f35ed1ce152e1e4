package ui

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// inGerman lets a test see the window in German.
func inGerman(t *testing.T) {
	t.Helper()
	if err := speak("de"); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := speak("en"); err != nil {
			t.Fatal(err)
		}
	})
}

func TestTextsAreTranslatedByFormAndPart(t *testing.T) {
	inGerman(t)
	for in, want := range map[string]string{
		"Undo":                    "Rückgängig",
		"Rotary speaker: slow":    "Rotor: langsam",
		"Reach 15":                "Reichweite 15",
		"Write G at the caret":    "G an der Schreibmarke schreiben",
		"reeds ▾":                 "Holzbläser ▾",
		"drop 2 · two-hand block": "Drop 2 · zweihändiger Block",
		"Families: prefer major":  "Familien: Dur bevorzugen",
		"B♭4 selected":            "B♭4 gewählt",
		"0.8 m":                   "0,8 m",
		"Decay: 1.1 s":            "Decay: 1,1 s",
		"The chord “Q” waits here to be mended: A chord starts with a root from A to G at character 1, \"Q\".":                                  "Der Akkord „Q“ wartet hier auf Korrektur: Ein Akkord beginnt mit einem Grundton von A bis G bei Zeichen 1, „Q“.",
		"/a/b.organbook: the file is not replaced, because the previous version could not be kept: permission denied; save under another name.": "/a/b.organbook: die Datei wird nicht ersetzt, denn die vorige Fassung ließ sich nicht aufheben: keine Berechtigung; speichere unter einem anderen Namen.",
		"The loop starts at 70 % and rises by 5 % to 100 %.":                                                                                    "Die Schleife beginnt bei 70 % und steigt um 5 % auf 100 %.",
		"This was made by somebody. The rest is English; all of it.":                                                                            "This was made by somebody. The rest is English; all of it.",
		"The program ended with unsaved work on “X”, last changed on 3 March at 09:05. Open it?":                                                "Das Programm endete mit ungesicherter Arbeit: „X“, zuletzt geändert am 3. März um 09:05. Öffnen?",
		"“Suite: Undo” has unsaved work. Save it first?":                                                                                        "„Suite: Undo“ ist nicht gespeichert. Erst speichern?",
		"“Undo” has unsaved work. Save it first?":                                                                                               "„Undo“ ist nicht gespeichert. Erst speichern?",
		"Alt Q already means “Undo”.":                                                                                                           "Alt Q bedeutet schon „Rückgängig“.",
		"Press the new key for “Undo”. Escape keeps Alt Q.":                                                                                     "Drücke die neue Taste für „Rückgängig“. Escape lässt Alt Q.",
		"a text that nobody has heard":                                                                                                          "a text that nobody has heard",
		"":                                                                                                                                      "",
	} {
		if got := tr(in); got != want {
			t.Errorf("%q is %q, want %q", in, got, want)
		}
	}
	if err := speak("en"); err != nil {
		t.Fatal(err)
	}
	if got := tr("Undo"); got != "Undo" {
		t.Errorf("in English Undo is %q", got)
	}
}

// TestGermanIsComplete opens the window in German with all its menus and
// panels, asks for every command, and lists what has no translation.
func TestGermanIsComplete(t *testing.T) {
	inGerman(t)
	app := test.NewTempApp(t)
	preferences{app.Preferences()}.setLanguage("de")
	w := made(t, app, Options{})
	defer w.win.Close()
	w.win.Resize(fyne.NewSize(1600, 1000))
	w.session.SelectNote(3, false)
	for _, c := range w.commands.All() {
		tr(c.Title)
		if c.Also != "" {
			tr(command.SearchKey(c.Also))
		}
	}
	for _, name := range w.commands.Menus() {
		tr(name)
		w.menu(name)
	}
	for _, p := range []command.Panel{command.Bench, command.PassageForm, command.MIDI, command.Console, command.Grid} {
		w.FocusPanel(p)
		w.win.Canvas().Capture()
	}
	missing := translated.missing()
	slices.Sort(missing)
	asked := len(translated.cache)
	t.Logf("%d of %d texts have no translation:\n%s", len(missing), asked, strings.Join(missing, "\n"))
	if len(missing) > 0 || asked < 500 {
		t.Errorf("%d of %d texts have no translation", len(missing), asked)
	}
}

// TestAnotherLanguageChangesEveryTextAndNothingElse goes to German and back with
// a page open, a note selected and something to undo.
func TestAnotherLanguageChangesEveryTextAndNothingElse(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	w.run("language.en")
	w.session.SelectNote(6, false)
	if err := w.session.ChangeTreatment(func(tr *project.Treatment) { tr.Voicing = theory.Drop24 }); err != nil {
		t.Fatal(err)
	}
	w.FocusPanel(command.PassageForm)
	texts := func() string {
		w.win.Canvas().Capture()
		w.session.Say("")
		return strings.Join(shownTexts(w.win.Content()), "\n")
	}
	before, chart, selection := texts(), w.session.Chart(), w.session.Selection()
	w.run("language.de")
	german := texts()
	for _, word := range []string{"Oberstimme", "Lage"} {
		if !strings.Contains(german, word) {
			t.Errorf("there is no %q in the window", word)
		}
	}
	if w.bench.page != command.PassageForm || w.win.Canvas().Focused() != w.bench || w.session.Chart() != chart || !reflect.DeepEqual(w.session.Selection(), selection) || !w.session.CanUndo() {
		t.Error("page, keyboard, chart, selection or history have changed")
	}
	w.run("language.en")
	if after := texts(); after != before {
		t.Errorf("there and back the texts are\n%s\nand were\n%s", after, before)
	}
	if w.prefs.language() != "en" {
		t.Errorf("kept %q", w.prefs.language())
	}
}

func TestLanguageIsRememberedAndSearched(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	w.run("language.de")
	if w.prefs.language() != "de" {
		t.Errorf("remembered %q", w.prefs.language())
	}
	found := w.search("rückgäng")
	if len(found) == 0 || found[0].ID != "edit.undo" {
		t.Errorf("a German title finds %v", found)
	}
	if found := w.search("undo"); len(found) == 0 || found[0].ID != "edit.undo" {
		t.Error("the English title is found no more")
	}
	w.run("language.en")
	if tr("Undo") != "Undo" {
		t.Error("English does not come back")
	}
}

// TestCommandsAreFoundByGermanWords: what a musician types comes first, the words of
// English still find, and no translation is left of words that no command has.
func TestCommandsAreFoundByGermanWords(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	inGerman(t)
	w.run("language.de")
	for query, first := range map[string]string{
		"Notenlänge": "length.1", "notenwert": "length.1", "Viertel": "length.4", "Achtelnote": "length.8", "Punktierung": "length.dot", "Triole": "length.triplet",
		"Tonart": "bar.key", "Vorzeichen": "note.sharper", "Vorzeichnung": "bar.key", "Taktart": "bar.meter", "Takt": "bar.insert", "Auftakt": "bar.pickup", "Tempo": "bar.tempo",
		"Registrierung": "passage.registration", "Register": "passage.registration", "Zugriegel": "passage.registration", "Schweller": "console.swellmore", "Rotor": "rotary.stopped",
		"Lautstärke": "play.louder", "laut": "play.louder", "leise": "play.softer", "Pegel": "play.louder", "Metronom": "play.click", "Hall": "tone.size.more",
		"Wiederholung": "bar.repeatstart", "Wiederholungszeichen": "bar.repeatstart", "Haus": "bar.ending", "Studierbuchstabe": "bar.section",
		"Schleife": "play.loop", "Spielen": "play.toggle", "abspielen": "play.toggle", "Anhalten": "play.toggle", "aufnehmen": "record.toggle", "üben": "play.loop",
		"Haltebogen": "note.hold", "Pause": "note.rest", "Oktave": "note.octaveup", "Transponieren": "chart.transpose", "versetzen": "chart.transpose", "Kreuz": "note.sharper",
		"Löschen": "note.delete", "Akkord": "chord.type", "Speichern": "file.save", "sichern": "file.save", "öffnen": "file.open", "exportieren": "file.export.musicxml",
		"Anheften": "bench.pin", "Fingersatz": "finger.next", "Fassung": "take.make", "Lage": "voicing.close", "Drop": "voicing.drop2", "Hilfe": "help.guide",
		"rückgängig": "edit.undo", "Latenz": "buffers.automatic", "Zoom": "view.wider", "volume": "play.louder", "key": "bar.key", "play": "play.toggle",
	} {
		found := w.search(query)
		if len(found) == 0 {
			t.Errorf("%q finds nothing", query)
			continue
		}
		if found[0].ID != first {
			t.Errorf("%q finds %s (%s) before %s", query, found[0].ID, tr(found[0].Title), first)
		}
	}
	used := map[string]bool{}
	for _, c := range append(w.commands.All(), command.OwnRegistration("x", nil)) {
		if c.Also == "" {
			continue
		}
		key := command.SearchKey(c.Also)
		if used[key] = true; tr(key) == key {
			t.Errorf("the words of %s are not German: %s", c.ID, c.Also)
		}
		for _, word := range strings.FieldsFunc(tr(key), func(r rune) bool { return r == ' ' || r == ';' }) {
			if c.ID != command.OwnRegistrationID("x") && !slices.Contains(w.search(word), c) {
				t.Errorf("%q does not find %s", word, c.ID)
			}
		}
	}
	keys, err := readKeys("de")
	if err != nil {
		t.Fatal(err)
	}
	for key := range keys {
		if strings.HasPrefix(key, command.SearchKey("")) && !used[key] {
			t.Errorf("no command has the words of %q", key)
		}
	}
}
