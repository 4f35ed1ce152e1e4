package ui

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/ui/command"
)

// englishWords are the words of the English texts that no German text has.
func englishWords(t *testing.T) map[string]bool {
	t.Helper()
	keys, err := keysOf("de")
	if err != nil {
		t.Fatal(err)
	}
	german := map[string]bool{}
	maps.DeleteFunc(keys, func(e, _ string) bool { return strings.HasPrefix(e, command.SearchKey("")) }) // not shown
	for _, g := range keys {
		for _, w := range wordsOf(g) {
			german[w] = true
		}
	}
	for _, w := range []string{"add", "flac", "wav"} {
		german[w] = true // in chord symbols and names of files
	}
	english := map[string]bool{}
	for e := range keys {
		for _, w := range wordsOf(e) {
			if !german[w] {
				english[w] = true
			}
		}
	}
	return english
}

func wordsOf(s string) []string {
	words := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) })
	return slices.DeleteFunc(words, func(w string) bool { return len(w) < 3 })
}

// shownTexts lists what an object and all in it show in letters.
func shownTexts(o fyne.CanvasObject) (out []string) {
	for _, o := range test.LaidOutObjects(o) {
		if !o.Visible() {
			continue
		}
		switch o := o.(type) {
		case *canvas.Text:
			out = append(out, o.Text)
		case *widget.Label:
			out = append(out, o.Text)
		case *widget.Check:
			out = append(out, o.Text)
		}
	}
	return out
}

// TestTheGermanWindowShowsNoEnglish opens every page, form, list and dialog in
// German and looks at every text for words that only English has.
func TestTheGermanWindowShowsNoEnglish(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	inGerman(t)
	w.run("language.de")
	english := englishWords(t)
	// What the demo's maker wrote.
	data := []string{"Song A, alone", "Song A, section", "Shout chorus", "Ending", "The Organbook authors"}
	seen, shown := map[string]string{}, 0
	look := func(where string) {
		objects := []fyne.CanvasObject{w.win.Content()}
		objects = append(objects, w.win.Canvas().Overlays().List()...)
		for _, o := range objects {
			for _, s := range shownTexts(o) {
				shown++
				if _, known := seen[s]; known || strings.HasPrefix(s, "/") || slices.Contains(data, s) {
					continue // a path is data
				}
				for _, word := range wordsOf(s) {
					if english[word] {
						seen[s] = where + ", “" + word + "”"
					}
				}
			}
		}
	}
	look("the window")
	w.session.SelectNote(6, false)
	look("a note")
	for _, p := range []command.Panel{command.Bench, command.PassageForm, command.Reach, command.MIDI, command.Console, command.Grid} {
		w.FocusPanel(p)
		look(p.String())
	}
	w.FocusPanel(command.PassageForm)
	for range 7 {
		press(w, fyne.KeyPageDown)
		look("the passage form")
	}
	w.FocusPanel(command.Bench)
	w.session.SelectBars(2, 3)
	look("several notes")
	for _, c := range w.commands.All() {
		if !strings.HasSuffix(c.Title, "…") {
			continue
		}
		w.run(c.ID)
		look(c.Title)
		for _, o := range w.win.Canvas().Overlays().List() {
			w.win.Canvas().Overlays().Remove(o)
		}
		w.regain()
	}
	w.ListCommands()
	look("the list of commands")
	var list []string
	for s, where := range seen {
		list = append(list, where+": "+s)
	}
	slices.Sort(list)
	if len(list) > 0 {
		t.Errorf("%d of %d texts have English words:\n%s", len(list), shown, strings.Join(list, "\n"))
	}
	if shown < 2000 {
		t.Errorf("only %d texts were seen", shown)
	}
}

// TestTheListOfCommandsIsReadInGerman lays every line of the list out: title, menu and
// key stand apart, and no title is cut.
func TestTheListOfCommandsIsReadInGerman(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for _, code := range []string{"en", "de"} {
		inGerman(t)
		w.run("language." + code)
		l := w.openList()
		for i, c := range l.found {
			r := l.newRow().(*commandRow)
			r.Resize(fyne.NewSize(600, 30))
			test.WidgetRenderer(r)
			l.showRow(i, r)
			end := r.title.Position().X + r.title.MinSize().Width
			if r.title.Text != tr(c.Title) || end > r.key.Position().X || r.menu.Visible() && (end > r.menu.Position().X || r.menu.Position().X+r.menu.MinSize().Width > r.key.Position().X) {
				t.Errorf("%s: %q, %q at %g and %q at %g overlap or are cut", code, r.title.Text, r.menu.Text, r.menu.Position().X, r.key.Text, r.key.Position().X)
			}
		}
		l.close()
	}
}

// TestButtonsOfDialogsAreSaidInGerman looks the labels of the sources up, also those
// of one word.
func TestButtonsOfDialogsAreSaidInGerman(t *testing.T) {
	keys, err := keysOf("de")
	if err != nil {
		t.Fatal(err)
	}
	sources, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	labels := regexp.MustCompile(`(?:newEscButton|\.button|\.then)\("([^"]+)"`)
	found := 0
	for _, path := range sources {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		source, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range labels.FindAllStringSubmatch(string(source), -1) {
			found++
			if _, ok := keys[m[1]]; !ok && hasWord(m[1]) {
				t.Errorf("%s: %q has no German", path, m[1])
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d labels are found", found)
	}
}
