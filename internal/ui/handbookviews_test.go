package ui

import (
	"image"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/software"

	"organbook/assets"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// A view is a part of the window that the handbook shows. Its pictures, in
// assets/handbook/pictures, are made by the window's own widgets on the demo
// chart, and compared with what those draw now.
type view struct {
	size fyne.Size
	show func(w *Window) fyne.CanvasObject
}

var benchViewSize = fyne.NewSize(340, 470)

var views = map[string]view{
	"strip": {fyne.NewSize(344, stripHeight), viewStrip}, // as wide as the column, so that it can be read
	"form":  {fyne.NewSize(340, 400), func(w *Window) fyne.CanvasObject { return viewForm(w, "blocks") }},
	"takes": {fyne.NewSize(340, 390), func(w *Window) fyne.CanvasObject { twoTakes(w); return viewForm(w, "takes") }},
	"midi":  {fyne.NewSize(340, 470), viewMIDI},
	"bench": {benchViewSize, func(w *Window) fyne.CanvasObject {
		w.session.SelectNote(6, false)
		return viewBench(w)
	}},
	"selection": {benchViewSize, func(w *Window) fyne.CanvasObject {
		w.session.SelectBars(2, 3)
		w.session.WalkAlternatives(1)
		return viewBench(w)
	}},
}

// TestTheHandbooksPicturesAreTheWindow draws every view anew, at twice the size
// for sharp screens, and compares; ORGANBOOK_GOLDEN=write keeps the new ones.
func TestTheHandbooksPicturesAreTheWindow(t *testing.T) { comparePictures(t, "") }

func TestTheGermanHandbooksPicturesAreTheWindow(t *testing.T) {
	comparePictures(t, "de")
}

// comparePictures compares the pictures in a directory.
func comparePictures(t *testing.T, directory string) {
	t.Helper()
	if raceDetector {
		t.Skip("it compares pixels, all of one goroutine")
	}
	for name, mode := range map[string]themeMode{"dark": alwaysDark, "light": alwaysLight} {
		w := open(t, Options{}, mode, fyne.NewSize(1280, 720))
		if directory != "" {
			inGerman(t)
		}
		for what, v := range views {
			still := stillWindow(t, w)
			path := filepath.Join("..", "..", "assets", "handbook", "pictures", directory, what+"-"+name+".png")
			compareGoldenAt(t, path, painted(v.show(still), v.size))
		}
	}
}

// stillWindow is a window's column and strip on the demo chart.
func stillWindow(t *testing.T, w *Window) *Window {
	t.Helper()
	demo, err := assets.Demo()
	if err != nil {
		t.Fatal(err)
	}
	still := &Window{app: w.app, win: w.win, look: w.look, prefs: w.prefs, commands: w.commands, session: session.New(demo, nil)}
	still.top = newTopBar(still)
	still.strip = newStripView(still)
	still.bench = newBenchView(still)
	still.bench.update()
	return still
}

// painted draws an object of the window without a screen.
func painted(o fyne.CanvasObject, size fyne.Size) image.Image {
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetScale(handbookScale)
	c.SetContent(o)
	c.Resize(size)
	return c.Capture()
}

// twoTakes gives the first passage another take.
func twoTakes(w *Window) {
	for _, do := range []func() error{w.session.MakeTake, func() error { return w.session.SetVoicing(theory.Drop24) }} {
		_ = do() // the demo takes both
	}
}

// viewStrip shows the cards, the first with two takes.
func viewStrip(w *Window) fyne.CanvasObject {
	twoTakes(w)
	w.strip.update()
	return w.strip
}

// viewForm shows a part of the passage form.
func viewForm(w *Window, part string) fyne.CanvasObject {
	for i, name := range command.PassageSections() {
		if name == part {
			w.bench.passage.part = i
		}
	}
	w.bench.showPage(command.PassageForm)
	return w.bench.root
}

// viewMIDI shows the page of ports with a bench of two manuals.
func viewMIDI(w *Window) fyne.CanvasObject {
	d := &miditest.Desk{}
	d.Plug("Bench, two manuals", "Church organ")
	w.session = session.New(project.New(), nil)
	w.keyboards.w = w
	w.keyboards.hub = midi.New(d, mute{}, midi.DefaultSetup())
	miditest.Until(func() bool { return openInputs(w.keyboards.hub.State()) == 1 })
	w.keyboards.hub.Close()
	w.bench.showPage(command.MIDI)
	return w.bench.root
}

// viewBench shows the bench.
func viewBench(w *Window) fyne.CanvasObject {
	w.bench.root.Resize(benchViewSize)
	w.bench.update()
	return w.bench.root
}
