package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
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

func TestSaveOpenAndWarnings(t *testing.T) {
	dir := t.TempDir()
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "cde")
	path := filepath.Join(dir, "tune")
	if !w.saveTo(path) || w.session.Dirty() {
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

func TestUnsavedWorkIsOfferedAfterACrash(t *testing.T) {
	journal := filepath.Join(t.TempDir(), "journal")
	first := open(t, Options{Chart: project.New(), Journal: journal}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(first, "cde")
	want := first.session.Chart()
	// The first window is never closed properly: the journal stays.
	second := open(t, Options{Journal: journal}, alwaysDark, fyne.NewSize(1280, 720))
	top := second.win.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("the work is not offered")
	}
	press(second, fyne.KeyReturn)
	if !second.session.Chart().Equal(want) || !second.session.Dirty() {
		t.Error("the offered work is not the work left behind")
	}
}
