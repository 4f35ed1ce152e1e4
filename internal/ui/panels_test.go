package ui

import (
	"errors"
	"fmt"
	"image"
	"image/draw"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/software"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/exchange/chartfile"
	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
)

// keptPanel is a part of the window that is kept as pictures. show brings it up
// and returns the part to keep; of is the panel of the commands' table that it is, if
// it is one.
type keptPanel struct {
	name string
	of   command.Panel
	show func(t *testing.T, w *Window) fyne.CanvasObject
}

// panels are kept in both themes and at three sizes.
var panels = []keptPanel{
	{"bench", command.Bench, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.bench.root }},
	{"passage", command.PassageForm, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.bench.root }},
	{"reach", command.Reach, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.bench.root }},
	{"midi", command.MIDI, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.bench.root }},
	{"console", command.Console, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.console.root }},
	{"transport", command.Transport, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.top.root }},
	{"strip", command.Strip, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.strip }},
	{"grid", command.Grid, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.grid.root }},
	{"handbook", command.Handbook, func(_ *testing.T, w *Window) fyne.CanvasObject { w.run("help.guide"); return w.guide.root }},

	{"marks", 0, showMarks},
	{"chord", 0, func(t *testing.T, w *Window) fyne.CanvasObject { return showChord(t, w, "Bbm7b5/D") }},
	{"chord-wrong", 0, func(t *testing.T, w *Window) fyne.CanvasObject { return showChord(t, w, "Bbm7x") }},
	{"recording", 0, showRecording},
	{"recording-bar", 0, func(t *testing.T, w *Window) fyne.CanvasObject { showRecording(t, w); return w.top.root }},
	{"status", 0, func(_ *testing.T, w *Window) fyne.CanvasObject { return w.status.root }},
	{"empty", 0, func(_ *testing.T, w *Window) fyne.CanvasObject {
		w.session.Open(project.New(), "")
		return w.grid.root
	}},

	{"commands", 0, func(_ *testing.T, w *Window) fyne.CanvasObject { w.ListCommands(); return w.topDialog() }},
	{"menu", 0, func(_ *testing.T, w *Window) fyne.CanvasObject {
		w.showMenu(w.top.menu)
		return shownMenu(w)
	}},
}

// messages are dialogs that no command opens at once.
var messages = []struct {
	name string
	show func(t *testing.T, w *Window)
}{
	{"commands-none", func(_ *testing.T, w *Window) {
		w.openList().field.SetText("zzz")
	}},
	{"key-change", func(_ *testing.T, w *Window) {
		w.changeKey(w.commands.Find("note.delete"))
	}},
	{"question", func(_ *testing.T, w *Window) {
		w.ask(question{title: "A question", text: "Is this the text?", answers: []answer{{"No", func() {}}, {"Yes", func() {}}}, highlight: 1})
	}},
	{"unsaved", func(_ *testing.T, w *Window) {
		w.run("note.delete")
		w.run("file.new")
	}},
	{"damaged", func(t *testing.T, w *Window) {
		path := damagedChart(t)
		_, err := chartfile.Open(path)
		// The folder has another name each time.
		w.showUnopened(path, errors.New(strings.ReplaceAll(err.Error(), filepath.Dir(path), "/home/organist/charts")))
	}},
	{"warnings", func(_ *testing.T, w *Window) {
		w.showWarnings("song.musicxml", []string{"bar 3: a chord without a root is left out", "part “Bass” is not read: a lead sheet has one part"})
	}},
}

// showMarks writes a chart with every mark that a bar can have.
func showMarks(t *testing.T, w *Window) fyne.CanvasObject {
	s := w.session
	s.Open(project.New(), "")
	w.Zoom(minZoom, minZoom) // so that all bars are seen
	bar := func(i, n int) { s.SelectBars(i, i+n-1) }
	typeRunes(w, "4gabc2dc4bagf")
	for _, mark := range []func() error{
		func() error { return s.SetPickup("1") },
		func() error { bar(1, 1); return s.SetSection("A") },
		func() error { bar(1, 1); return s.ToggleRepeatStart() },
		func() error { bar(2, 1); return s.SetEnding("1") },
		func() error { bar(2, 1); return s.ToggleRepeatEnd() },
		func() error { bar(3, 1); return s.SetEnding("2, 3") },
		func() error { bar(4, 2); return s.SetMeter(project.Meter{Beats: 6, Unit: 8}) },
		func() error { bar(4, 1); return s.SetKey(theory.MustParseKey("Eb")) },
		func() error { bar(5, 1); return s.SetTempo(96, 0.62) },
		func() error { bar(1, 1); return s.ToggleSegno() },
		func() error { bar(5, 1); return s.ToggleToCoda() },
		func() error { bar(6, 1); return s.ToggleCoda() },
		func() error { bar(3, 1); return s.ToggleFine() },
	} {
		if err := mark(); err != nil {
			t.Fatal(err)
		}
	}
	w.run("jump.dscoda")
	s.SetCaret(0)
	w.flush()
	return w.grid.root
}

// showChord types a symbol into the field of a bar.
func showChord(t *testing.T, w *Window, text string) fyne.CanvasObject {
	w.session.SetCaret(w.session.Chart().BarStart(2))
	w.TypeChord()
	if w.win.Canvas().Focused() != fyne.Focusable(w.grid.entry) {
		t.Fatal("no field opens")
	}
	typeRunes(w, text)
	return w.grid.root
}

// showRecording records over the first bars.
func showRecording(t *testing.T, w *Window) fyne.CanvasObject {
	sound := w.opts.Sound.(*tape)
	w.session.SetCaret(0)
	if err := w.session.ToggleRecord(); err != nil {
		t.Fatal(err)
	}
	w.ticking, sound.at = true, 2.5
	w.tick(make(chan struct{}))
	w.flush()
	return w.grid.root
}

// shownMenu is the menu that lies over the window.
func shownMenu(w *Window) (menu fyne.CanvasObject) {
	walk(w.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if m, ok := o.(*widget.PopUpMenu); ok {
			menu = m
		}
	})
	return menu
}

// topDialog is what lies over the window, without its veil.
func (w *Window) topDialog() fyne.CanvasObject {
	return w.win.Canvas().Overlays().Top().(*widget.PopUp).Content
}

func TestGoldenPanels(t *testing.T) {
	for _, p := range command.Panels() {
		if !slices.ContainsFunc(panels, func(kept keptPanel) bool { return kept.of == p }) {
			t.Errorf("no picture is kept of the panel %v", p)
		}
	}
	inEveryLook(t, looks, func(t *testing.T, l looked) {
		for _, p := range panels {
			t.Run(p.name, func(t *testing.T) {
				w := open(t, Options{Sound: &tape{}}, l.mode, l.size)
				w.session.SelectNote(3, false)
				w.FocusPanel(p.of)
				compareGolden(t, "panel-"+p.name+"-"+l.name+".png", crop(w, p.show(t, w)))
			})
		}
	})
}

// TestGoldenDialogs keeps a picture of every dialog that a command opens, as its
// title says by its dots, and of the messages. A dialog is as large as what it holds, whatever the size of
// the window, so that two looks show all there is.
func TestGoldenDialogs(t *testing.T) {
	inEveryLook(t, []looked{darkSmall, lightLeast}, func(t *testing.T, l looked) {
		w := open(t, Options{}, l.mode, l.size)
		w.prefs.setFolder("/home/organist/charts")
		w.session.SelectNote(3, false)
		for _, c := range w.commands.All() {
			if !strings.HasSuffix(c.Title, "…") {
				continue
			}
			w.run(c.ID)
			if w.win.Canvas().Overlays().Top() == nil {
				t.Errorf("%s opens no dialog", c.Title)
				continue
			}
			compareGolden(t, "dialog-"+strings.ReplaceAll(c.ID, ".", "-")+"-"+l.name+".png", w.dialogPicture())
			for _, o := range w.win.Canvas().Overlays().List() {
				w.win.Canvas().Overlays().Remove(o)
			}
			w.list = nil
			w.focusPanel(command.Grid)
		}
		for _, m := range messages {
			w := open(t, Options{}, l.mode, l.size)
			w.session.SelectNote(3, false)
			m.show(t, w)
			compareGolden(t, "dialog-"+m.name+"-"+l.name+".png", w.dialogPicture())
		}
	})
}

// TestEveryFormHasACommand holds the forms to the commands that open them, whose
// dialogs are kept as pictures.
func TestEveryFormHasACommand(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	asked := &formsAsked{Frontend: w, names: map[string]bool{}}
	for _, c := range w.commands.All() {
		if c.In == 0 && (strings.HasSuffix(c.Title, "…") || strings.HasPrefix(c.ID, "passage.")) {
			if _, err := c.Run(command.Env{Session: w.session, Frontend: asked}); err != nil {
				t.Error(err)
			}
		}
	}
	for name := range forms {
		if !asked.names[name] {
			t.Errorf("no command opens the form %q", name)
		}
	}
}

// formsAsked is a Frontend that notes which forms are asked for.
type formsAsked struct {
	command.Frontend
	names map[string]bool
}

// Form notes a form.
func (f *formsAsked) Form(name string) { f.names[name] = true }

// TestGoldenScales keeps the whole window on three screens, dark at 150 % and light
// at 200 %.
func TestGoldenScales(t *testing.T) {
	var scaled []looked
	for _, size := range []fyne.Size{{Width: 1280, Height: 800}, {Width: 1600, Height: 1000}, {Width: 1920, Height: 1200}} {
		scaled = append(scaled, looked{"150-dark-" + sizeName(size), alwaysDark, size}, looked{"200-light-" + sizeName(size), alwaysLight, size})
	}
	inEveryLook(t, scaled, func(t *testing.T, l looked) {
		scale := float32(2)
		if l.mode == alwaysDark {
			scale = 1.5
		}
		w := open(t, Options{}, l.mode, fyne.NewSize(l.size.Width/scale, l.size.Height/scale))
		w.win.Canvas().(test.WindowlessCanvas).SetScale(scale)
		w.session.SelectNote(3, false)
		compareGolden(t, "scale-"+l.name+".png", w.win.Canvas().Capture())
	})
}

// crop is the part of a picture of the window that an object takes, at scale 1.
func crop(w *Window, o fyne.CanvasObject) image.Image {
	at, size := w.placeOf(o), o.Size()
	out := image.NewRGBA(image.Rect(0, 0, int(size.Width+0.5), int(size.Height+0.5)))
	draw.Draw(out, out.Rect, w.win.Canvas().Capture(), image.Pt(int(at.X), int(at.Y)), draw.Src)
	return out
}

// placeOf is where an object lies in the picture of the window.
func (w *Window) placeOf(o fyne.CanvasObject) fyne.Position {
	driver := w.app.Driver()
	return driver.AbsolutePositionForObject(o).Subtract(driver.AbsolutePositionForObject(w.win.Content()))
}

// dialogPicture is the picture of the dialog on top. Nothing but it is drawn, which
// is a tenth of drawing the window.
func (w *Window) dialogPicture() image.Image {
	content := w.topDialog()
	at := w.placeOf(content)
	holder := container.NewWithoutLayout(w.win.Canvas().Overlays().Top())
	holder.Move(fyne.NewPos(-at.X, -at.Y))
	part := software.NewCanvas()
	part.SetPadded(false)
	part.SetContent(container.NewWithoutLayout(holder))
	part.Resize(content.Size())
	return part.Capture()
}

func sizeName(s fyne.Size) string { return fmt.Sprintf("%.0fx%.0f", s.Width, s.Height) }
