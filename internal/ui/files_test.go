package ui

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
)

func TestUnsavedWorkIsAskedAbout(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "c")
	w.NewChart()
	if len(w.session.Chart().Melody) != 1 {
		t.Error("nothing is thrown away before the answer")
	}
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("no question is asked")
	}
	tapButton(t, top, "Do not save")
	if len(w.session.Chart().Melody) != 0 {
		t.Error("the answer starts the new chart")
	}
}

// tapButton taps the toolkit's button with a label anywhere under an object.
func tapButton(t *testing.T, under fyne.CanvasObject, label string) {
	t.Helper()
	var found *escButton
	walk(under, func(o fyne.CanvasObject) {
		if b, ok := o.(*escButton); ok && b.Text == label {
			found = b
		}
	})
	if found == nil {
		t.Fatalf("no button %q", label)
	}
	test.Tap(found)
}

func walk(o fyne.CanvasObject, f func(fyne.CanvasObject)) {
	f(o)
	switch v := o.(type) {
	case *fyne.Container:
		for _, c := range v.Objects {
			walk(c, f)
		}
	case fyne.Widget:
		for _, c := range test.WidgetRenderer(v).Objects() {
			walk(c, f)
		}
	}
}

// TestSuggestedNames: of a file what is before its ending, of a title all.
func TestSuggestedNames(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	for _, tc := range []struct{ title, path, want string }{
		{"", "", "untitled.wav"},
		{"Ferry No. 2", "", "ferry-no.-2.wav"},
		{"A/B: two", "", "a-b--two.wav"},
		{"Ferry No. 2", "/a/Second Ferry.organbook", "second-ferry.wav"},
	} {
		c := *project.New()
		c.Title = tc.title
		w.session.Open(&c, tc.path)
		if got := w.suggestedName(".wav"); got != tc.want {
			t.Errorf("%q in %q is suggested as %q, want %q", tc.title, tc.path, got, tc.want)
		}
	}
}

func TestSaveOpenAndWarnings(t *testing.T) {
	dir := t.TempDir()
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "cde")
	path := filepath.Join(dir, "tune")
	if w.saveTo(path+".organbook", func() {}); w.session.Dirty() {
		t.Fatal("saving failed")
	}
	want := w.session.Chart()
	w.session.Open(project.New(), "")
	w.openPath(path + ".organbook")
	if !w.session.Chart().Equal(want) || w.session.Path() != path+".organbook" {
		t.Error("the reopened chart differs")
	}
	if r := w.prefs.recent(); len(r) != 1 || r[0] != path+".organbook" {
		t.Errorf("recent files %v", r)
	}
	w.openPath(filepath.Join(dir, "none.organbook"))
	if w.win.Canvas().Overlays().Top() == nil || !w.session.Chart().Equal(want) {
		t.Error("a missing file is one sentence and changes nothing")
	}
}

// sloppyScore is a lead sheet with an unknown chord kind and a grace note.
const sloppyScore = `<?xml version="1.0"?><score-partwise version="3.1"><part-list><score-part id="P1"><part-name>Lead</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
<harmony><root><root-step>C</root-step></root><kind>wobbly</kind></harmony>
<note><grace/><pitch><step>A</step><octave>4</octave></pitch></note>
<note><pitch><step>G</step><octave>4</octave></pitch><duration>4</duration></note></measure></part></score-partwise>`

func TestImportShowsWarningsAndIsUnsaved(t *testing.T) {
	path := filepath.Join(t.TempDir(), "sloppy.musicxml")
	if err := os.WriteFile(path, []byte(sloppyScore), 0o600); err != nil {
		t.Fatal(err)
	}
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.openPath(path)
	if len(w.session.Chart().Melody) != 1 || w.session.Path() != "" || !w.session.Dirty() {
		t.Errorf("melody %v, path %q, dirty %v", w.session.Chart().Melody, w.session.Path(), w.session.Dirty())
	}
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("no warnings are shown")
	}
	said := ""
	walk(top, func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok {
			said += l.Text
		}
	})
	if !strings.Contains(said, "grace") || !strings.Contains(said, "wobbly") {
		t.Errorf("warnings %q", said)
	}
}

// crash leaves a window's unsaved work in a folder, as a process that was cut
// off does, and returns the chart.
func crash(t *testing.T, folder, title, path string) *project.Chart {
	t.Helper()
	c, err := project.SetTitle{Title: title}.Apply(project.New())
	if err != nil {
		t.Fatal(err)
	}
	if err := project.NewJournal(filepath.Join(folder, title+".journal")).Write(c, path); err != nil {
		t.Fatal(err)
	}
	return c
}

// dialogText is all the text of what lies on top of the window.
func dialogText(w *Window) string {
	top := w.win.Canvas().Overlays().Top()
	if top == nil {
		return ""
	}
	said := ""
	walk(top, func(o fyne.CanvasObject) {
		switch x := o.(type) {
		case *widget.Label:
			said += x.Text + "\n"
		case *canvas.Text:
			said += x.Text + "\n"
		}
	})
	return said
}

func TestUnsavedWorkIsOfferedAfterACrash(t *testing.T) {
	folder := t.TempDir()
	want := crash(t, folder, "Night Ferry", "/music/ferry.organbook")
	first := open(t, Options{Journal: folder}, alwaysDark, fyne.NewSize(1280, 720))
	if said := dialogText(first); !strings.Contains(said, "Night Ferry") || !strings.Contains(said, "ferry.organbook") {
		t.Errorf("the question does not name the chart and its file: %q", said)
	}
	press(first, fyne.KeyEscape)
	if first.session.Chart().Title == "Night Ferry" || dialogText(first) != "" {
		t.Error("Escape does not close the question")
	}
	second := open(t, Options{Journal: folder}, alwaysDark, fyne.NewSize(1280, 720))
	if !strings.Contains(dialogText(second), "Night Ferry") {
		t.Fatal("after Escape the work is not offered again")
	}
	press(second, fyne.KeyReturn)
	if !second.session.Chart().Equal(want) || !second.session.Dirty() || second.session.Path() != "/music/ferry.organbook" {
		t.Error("the offered work is not the work left behind")
	}
	third := open(t, Options{Journal: folder}, alwaysDark, fyne.NewSize(1280, 720))
	if said := dialogText(third); said != "" {
		t.Errorf("the work of a window that is open is offered to another: %q", said)
	}
}

func TestOnlyLettingGoForgetsUnsavedWork(t *testing.T) {
	folder := t.TempDir()
	crash(t, folder, "One", "")
	crash(t, folder, "Two", "")
	w := open(t, Options{Journal: folder}, alwaysDark, fyne.NewSize(1280, 720))
	tapButton(t, w.win.Canvas().Overlays().Top(), "Let it go")
	tapButton(t, w.win.Canvas().Overlays().Top(), "Ask me later")
	if left, _ := filepath.Glob(filepath.Join(folder, "*.journal")); len(left) != 1 {
		t.Errorf("left behind: %v", left)
	}
}

func TestAnImportNobodyEditedIsNotAskedAbout(t *testing.T) {
	w := open(t, Options{Chart: project.New(), Path: "lead.musicxml"}, alwaysDark, fyne.NewSize(1280, 720))
	w.NewChart()
	if dialogText(w) != "" {
		t.Error("a question about an import that nobody touched")
	}
	w.session.OpenImported(project.New())
	typeRunes(w, "c")
	w.NewChart()
	if dialogText(w) == "" {
		t.Error("no question about an import that was edited")
	}
}

// answerPath types a path into the question for one.
func answerPath(t *testing.T, w *Window, path string) {
	t.Helper()
	entry, ok := w.win.Canvas().Focused().(*escEntry)
	if !ok {
		t.Fatal("no path is asked for")
	}
	entry.SetText(path)
	press(w, fyne.KeyReturn)
}

func TestSavingAsksAboutTheFileItWrites(t *testing.T) {
	dir := t.TempDir()
	target := filepath.Join(dir, "foo.organbook")
	if err := os.WriteFile(target, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.SaveFile(true)
	answerPath(t, w, filepath.Join(dir, "foo"))
	if !strings.Contains(dialogText(w), "“foo.organbook” exists") {
		t.Fatalf("no question about the file: %q", dialogText(w))
	}
	press(w, fyne.KeyReturn)
	if got, _ := os.ReadFile(target); string(got) != "mine" {
		t.Error("Enter replaces the file")
	}
	w.SaveFile(true)
	answerPath(t, w, dir)
	if !strings.Contains(dialogText(w), "folder") {
		t.Errorf("a folder is taken for a file: %q", dialogText(w))
	}
	answerPath(t, w, filepath.Join(dir, "none", "bar"))
	if w.prefs.folder() == filepath.Join(dir, "none") {
		t.Error("the folder of a save that failed is proposed again")
	}
}

func TestWithEnding(t *testing.T) {
	for _, c := range []struct{ path, ending, want string }{
		{"foo", ".mid", "foo.mid"}, {"foo.MID", ".mid", "foo.MID"}, {"tune.organbook", ".mid", "tune.mid"},
		{"op. 3", ".wav", "op. 3.wav"}, {"a.flac", ".wav", "a.flac"}, {"a.WAV", ".flac", "a.WAV"}, {"a.mid", ".flac", "a.flac"}, {"a.mxl", ".musicxml", "a.mxl"}, {"a.mxl", ".png", "a.png"}, {"v1.2", ".organbook", "v1.2.organbook"},
	} {
		if got := withEnding(c.path, c.ending); got != c.want {
			t.Errorf("%s for %s becomes %s, want %s", c.path, c.ending, got, c.want)
		}
	}
}

// TestRecentChartsAreListedOrSaidToBeNone opens the list without and with a recent
// chart, which then has the keyboard.
func TestRecentChartsAreListedOrSaidToBeNone(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("file.recent")
	if shown := strings.Join(shownTexts(w.win.Canvas().Overlays().Top()), "\n"); !strings.Contains(shown, "No chart has been opened") {
		t.Errorf("without recent charts it says %q", shown)
	}
	press(w, fyne.KeyEscape)
	path := filepath.Join(t.TempDir(), "mine.organbook")
	if err := project.Save(path, w.session.Chart()); err != nil {
		t.Fatal(err)
	}
	w.prefs.addRecent(path)
	w.session.Open(project.New(), "")
	w.run("file.recent")
	b, ok := w.win.Canvas().Focused().(*escButton)
	if !ok || !strings.HasPrefix(b.Text, "mine.organbook") {
		t.Fatalf("%T has the keyboard", w.win.Canvas().Focused())
	}
	press(w, fyne.KeyReturn)
	if w.session.Path() != path {
		t.Errorf("Enter opens %q", w.session.Path())
	}
}

// TestALineForAPathTakesANameAtOnce: what is typed takes the place of the name, or of
// the folder that was only a start, and is one in that folder.
func TestALineForAPathTakesANameAtOnce(t *testing.T) {
	dir := t.TempDir()
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.prefs.setFolder(dir)
	w.SaveFile(true)
	typeRunes(w, "wälzer")
	if got := w.win.Canvas().Focused().(*escEntry).Text; got != filepath.Join(dir, "wälzer.organbook") {
		t.Errorf("the line to save holds %q", got)
	}
	press(w, fyne.KeyReturn)
	if w.session.Path() != filepath.Join(dir, "wälzer.organbook") {
		t.Errorf("saved to %q", w.session.Path())
	}
	var opened []string
	for _, typed := range []string{"wälzer.organbook", filepath.Join(dir, "wälzer.organbook")} {
		w.askOpen(func(path string) { opened = append(opened, path) }, false)
		typeRunes(w, typed)
		press(w, fyne.KeyReturn)
	}
	if want := []string{w.session.Path(), w.session.Path()}; !slices.Equal(opened, want) {
		t.Errorf("opened %q, want %q", opened, want)
	}
}

func TestNameIn(t *testing.T) {
	for _, tc := range []struct{ path, name string }{
		{"/a/b.organbook", "b"}, {"/ä/b. c.wav", "b. c"}, {"b.wav", "b"}, {"/a/b", "/a/b"}, {"/a/.b", "/a/.b"}, {"", ""},
	} {
		from, to := nameIn(tc.path)
		if got := string([]rune(tc.path)[from:to]); got != tc.name {
			t.Errorf("%q: %q, want %q", tc.path, got, tc.name)
		}
	}
}
