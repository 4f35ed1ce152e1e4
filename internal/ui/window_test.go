package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"organbook/internal/project"
	"organbook/internal/theory"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// open builds a window without a screen.
func open(t *testing.T, o Options, mode themeMode, size fyne.Size) *Window {
	t.Helper()
	app := test.NewTempApp(t)
	preferences{app.Preferences()}.setTheme(mode)
	w := made(t, app, o)
	w.win.Resize(size)
	w.Show()
	t.Cleanup(func() {
		select {
		case <-w.closing: // it was quit, and the test's driver does not close a window twice
		default:
			w.win.Close()
		}
	})
	return w
}

// made makes a window that does at once what it else does beside its goroutine,
// and nothing by itself: a timer that fires late would touch what the test
// then running uses.
func made(t *testing.T, app fyne.App, o Options) *Window {
	t.Helper()
	if o.post == nil {
		o.post = func(func()) {}
	}
	w, err := New(app, o)
	if err != nil {
		t.Fatal(err)
	}
	w.background = func(do func()) { do() }
	w.session.SetClock(func() time.Time { return testTime })
	return w
}

// testTime is what the clock of a window shows that a test has opened: it stands
// until the test moves it with later.
var testTime = time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)

func later(d time.Duration) { testTime = testTime.Add(d) }

// press sends strokes to what has the keyboard, as the driver does.
func press(w *Window, keys ...fyne.KeyName) {
	for _, k := range keys {
		w.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: k})
	}
}

func typeRunes(w *Window, text string) {
	for _, r := range text {
		w.win.Canvas().Focused().TypedRune(r)
	}
}

func TestPanelsStayInsideAndApart(t *testing.T) {
	// The last three are 1600×1000 at 150, 200 and 250 %.
	for _, size := range []fyne.Size{{Width: 1280, Height: 720}, {Width: 1600, Height: 1000}, {Width: 2400, Height: 1300}, {Width: 1066, Height: 666}, {Width: 800, Height: 500}, {Width: 640, Height: 400}} {
		w := open(t, Options{}, alwaysDark, size)
		panels := map[string]fyne.CanvasObject{"top": w.top.root, "strip": w.strip, "grid": w.grid.root, "status": w.status.root, "bench": w.bench.root, "console": w.console.root}
		for name, p := range panels { // the least window leaves some out
			if !p.Visible() {
				delete(panels, name)
			}
		}
		if len(panels) < 4 {
			t.Errorf("%v: only %d panels are shown", size, len(panels))
		}
		for a, p := range panels {
			if p.Position().X < 0 || p.Position().Y < 0 || p.Position().X+p.Size().Width > size.Width || p.Position().Y+p.Size().Height > size.Height {
				t.Errorf("%v: %s at %v %v leaves the window", size, a, p.Position(), p.Size())
			}
			for b, q := range panels {
				if a != b && overlap(p, q) {
					t.Errorf("%v: %s and %s overlap", size, a, b)
				}
			}
		}
		for _, root := range []*fyne.Container{w.top.root, w.console.root, w.status.root} {
			for _, p := range root.Objects {
				if !root.Visible() {
					break
				}
				if at, s := p.Position(), p.Size(); p.Visible() && at.X > -50 && (at.X < 0 || at.X+s.Width > root.Size().Width+1 || at.Y+s.Height > root.Size().Height+1) {
					t.Errorf("%v: %s at %v %v leaves its panel of %v", size, nameOf(p), at, s, root.Size())
				}
			}
		}
		for _, group := range [][]fyne.CanvasObject{w.top.root.Objects[1:], w.console.root.Objects[2:], w.status.root.Objects} {
			for i, p := range group {
				for _, q := range group[i+1:] {
					if overlap(p, q) {
						t.Errorf("%v: %s and %s overlap", size, nameOf(p), nameOf(q))
					}
				}
			}
		}
	}
}

func nameOf(o fyne.CanvasObject) string {
	if b, ok := o.(*button); ok {
		return "button " + b.label
	}
	if s, ok := o.(interface{ MinSize() fyne.Size }); ok {
		return strings.TrimPrefix(strings.TrimPrefix(typeName(s), "*"), "canvas.")
	}
	return "?"
}

func overlap(a, b fyne.CanvasObject) bool {
	p, q := a.Position(), b.Position()
	s, r := a.Size(), b.Size()
	const touch = 0.5
	return a.Visible() && b.Visible() && p.X+s.Width > q.X+touch && q.X+r.Width > p.X+touch && p.Y+s.Height > q.Y+touch && q.Y+r.Height > p.Y+touch
}

// TestWaysToStartStayInASmallWindow asks for the whole card inside the grid.
func TestWaysToStartStayInASmallWindow(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(700, 500))
	e, room := w.grid.empty, w.grid.root.Size()
	for _, o := range append([]fyne.CanvasObject{e.plate, e.line}, e.ways...) {
		at := o.Position().Add(e.root.Position())
		if m := o.MinSize(); at.X < 0 || at.Y < 0 || at.X+m.Width > room.Width || at.Y+m.Height > room.Height {
			t.Errorf("%T at %v of %v is cut off in %v", o, at, m, room)
		}
	}
}

func TestTypingATuneInTheWindow(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	if !w.grid.empty.root.Visible() {
		t.Error("an empty chart shows ways to start")
	}
	typeRunes(w, "4gab8cd")
	press(w, fyne.KeyHome)
	press(w, fyne.KeyReturn)
	if w.win.Canvas().Focused() != w.grid.entry {
		t.Fatal("Enter opens the chord entry")
	}
	typeRunes(w, "Gm6")
	press(w, fyne.KeyTab)
	typeRunes(w, "D7b9x")
	press(w, fyne.KeyReturn)
	if !w.grid.entry.live || w.grid.entry.Text != "D7b9x" || !strings.HasPrefix(w.grid.entry.note.Text, "✗") {
		t.Errorf("a wrong symbol keeps the field and its text: %q, %q", w.grid.entry.Text, w.grid.entry.note.Text)
	}
	press(w, fyne.KeyBackspace, fyne.KeyReturn)
	c := w.session.Chart()
	if len(c.Melody) != 5 || len(c.Changes) != 2 || c.Changes[1].Chord.String() != "D7b9" || c.Changes[1].Start != project.Whole {
		t.Fatalf("melody %v changes %v", c.Melody, c.Changes)
	}
	if w.grid.empty.root.Visible() {
		t.Error("the ways to start are gone")
	}
	if w.win.Canvas().Focused() != w.grid {
		t.Error("the grid has the keyboard again")
	}
	w.win.Canvas().Focused().(fyne.Shortcutable).TypedShortcut(&fyne.ShortcutUndo{})
	if len(w.session.Chart().Changes) != 1 {
		t.Error("undo takes the chord back")
	}
}

// click presses and releases the left button at a point of the grid.
func click(w *Window, x, y float64, m fyne.KeyModifier) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: m}
	e.Position = fyne.NewPos(float32(x), float32(y))
	w.grid.MouseDown(e)
	w.grid.MouseUp(e)
}

func drag(w *Window, x0, y0, x1, y1 float64) {
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = fyne.NewPos(float32(x0), float32(y0))
	w.grid.MouseDown(e)
	d := &fyne.DragEvent{}
	d.Position = fyne.NewPos(float32(x1), float32(y1))
	w.grid.Dragged(d)
	w.grid.DragEnd()
}

func TestMouseOnTheGrid(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	l := func(at project.Ticks, key int) (x, y float64) {
		system, x := w.grid.layout.X(at)
		return x + 3, w.grid.layout.RowY(system, key) + w.grid.layout.Options.RowHeight/2
	}
	x, y := l(project.Quarter, 67)
	click(w, x, y, 0)
	if m := w.session.Chart().Melody; len(m) != 1 || m[0].Start != project.Quarter || m[0].Pitch != theory.MustParsePitch("G4") {
		t.Fatalf("a click places a note: %v", m)
	}
	x0, y0 := l(project.Quarter, 67)
	x1, y1 := l(3*project.Quarter, 69)
	drag(w, x0+8, y0, x1+8, y1)
	if m := w.session.Chart().Melody; len(m) != 1 || m[0].Start != 3*project.Quarter || m[0].Pitch.Key() != 69 {
		t.Fatalf("a drag moves it in time and pitch: %v", m)
	}
	r := w.grid.layout.NoteRect(0)
	x2, _ := l(project.Whole+project.Quarter, 69)
	drag(w, r.Right()-1, r.CentreY(), x2, r.CentreY())
	if m := w.session.Chart().Melody; m[0].Duration != 2*project.Quarter {
		t.Fatalf("dragging the end lengthens it: %v", m)
	}
	x, y = l(0, 64)
	drag(w, x, y-40, x2, y+10)
	if n := len(w.session.Selection().Notes); n != 1 {
		t.Errorf("the rubber band selects %d notes", n)
	}
	press(w, fyne.KeyDelete)
	if len(w.session.Chart().Melody) != 0 {
		t.Error("Delete removes it")
	}
}

// TestShiftSelects adds notes one by one, takes one away again, and adds what a
// rubber band touches.
func TestShiftSelects(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "4gabc")
	selected := func() int { return len(w.session.Selection().Notes) }
	at := func(i int) (x, y float64) { r := w.grid.layout.NoteRect(i); return r.X + 6, r.CentreY() }
	for i, want := range []int{1, 2, 3} {
		x, y := at(i)
		click(w, x, y, fyne.KeyModifierShift)
		if selected() != want {
			t.Fatalf("%d notes selected after %d clicks", selected(), i+1)
		}
	}
	x, y := at(1)
	click(w, x, y, fyne.KeyModifierShift)
	if selected() != 2 {
		t.Errorf("a second click takes a note away: %d", selected())
	}
	r := w.grid.layout.NoteRect(3)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: fyne.KeyModifierShift}
	e.Position = fyne.NewPos(float32(r.X-2), float32(r.Y-20))
	w.grid.MouseDown(e)
	d := &fyne.DragEvent{}
	d.Position = fyne.NewPos(float32(r.Right()+2), float32(r.Bottom()+2))
	w.grid.Dragged(d)
	w.grid.DragEnd()
	if selected() != 3 {
		t.Errorf("the rubber band adds to the selection: %d", selected())
	}
}

// TestDraggingSeveral drags one of several selected notes, and then the end of
// one: all of them follow, and before that their ghosts.
func TestDraggingSeveral(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	typeRunes(w, "4gab")
	w.run("edit.selectall")
	r := w.grid.layout.NoteRect(1)
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary}
	e.Position = fyne.NewPos(float32(r.X+6), float32(r.CentreY()))
	w.grid.MouseDown(e)
	_, x0 := w.grid.layout.X(project.Quarter)
	_, x1 := w.grid.layout.X(3 * project.Quarter)
	d := &fyne.DragEvent{}
	d.Position = e.Position.AddXY(float32(x1-x0), -float32(2*w.grid.layout.Options.RowHeight))
	w.grid.Dragged(d)
	if g := w.grid.ghosts; len(g) != 3 || g[0].Start != 2*project.Quarter || g[2].Key != w.session.Chart().Melody[2].Pitch.Key()+2 {
		t.Errorf("ghosts %+v", g)
	}
	w.grid.DragEnd()
	m := w.session.Chart().Melody
	if len(w.grid.ghosts) != 0 || len(m) != 3 || m[0].Start != 2*project.Quarter || m[0].Pitch.Key() != 69 || m[2].Start != 4*project.Quarter {
		t.Fatalf("dropped: %v", m)
	}
	w.flush()
	if err := w.session.SetValue(8); err != nil { // resizes to eighths
		t.Fatal(err)
	}
	w.flush()
	r = w.grid.layout.NoteRect(0)
	_, x2 := w.grid.layout.X(3 * project.Quarter)
	drag(w, r.Right()-1, r.CentreY(), x2, r.CentreY())
	for i, n := range w.session.Chart().Melody {
		if n.Duration != project.Quarter {
			t.Errorf("note %d lasts %d after all ends were dragged", i, n.Duration)
		}
	}
	if len(w.session.Selection().Notes) != 3 {
		t.Error("the notes stay selected")
	}
}

func TestBenchAndConsoleByKeys(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1600, 1000))
	w.session.SelectNote(6, false)
	w.FocusPanel(command.Bench)
	if !w.bench.focused || w.grid.focused {
		t.Fatal("the bench has the keyboard and shows it")
	}
	press(w, fyne.KeyDown, fyne.KeyReturn)
	if !w.session.IsPinned() {
		t.Error("Down and Enter pin an alternative")
	}
	press(w, fyne.KeyDelete)
	if w.session.IsPinned() {
		t.Error("Delete takes the pin out")
	}
	w.FocusPanel(command.Console)
	before := w.session.DrawbarValue(0)
	press(w, fyne.KeyLeft)
	if before > 0 && w.session.DrawbarValue(0) != before-1 {
		t.Error("Left pushes the drawbar in")
	}
	typeRunes(w, "r")
	if !w.session.CanUndo() {
		t.Error("the rotary speaker's speed is an edit")
	}
}

func TestThemeIsRememberedAndFollowsTheSystem(t *testing.T) {
	w := open(t, Options{}, followSystem, fyne.NewSize(1280, 720))
	for id, want := range map[string]themeMode{"view.dark": alwaysDark, "view.light": alwaysLight, "view.system": followSystem} {
		w.run(id)
		if w.look.mode != want || w.prefs.theme() != want {
			t.Errorf("mode %s, remembered %s, want %s", w.look.mode, w.prefs.theme(), want)
		}
	}
}

func TestKeysPageComesFromTheTable(t *testing.T) {
	w := open(t, Options{Version: "9.9"}, alwaysDark, fyne.NewSize(1280, 720))
	page := w.keysPage()
	for _, c := range w.commands.All() {
		if len(c.Keys) > 0 && !strings.Contains(page, c.Title) {
			t.Errorf("the help does not list %s", c.Title)
		}
	}
}

func TestMenusFitTheSmallWindow(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	shown := slices.Clone(mainMenus)
	for _, under := range subMenus {
		shown = append(shown, under...)
	}
	for _, name := range w.commands.Menus() {
		if name != "Move" && name != "Console" && !slices.Contains(shown, name) {
			t.Errorf("no menu shows the commands of %s", name)
		}
	}
	w.session.SelectPassageAt(1)
	if h := widget.NewMenu(w.contextMenu(passageMenus())).MinSize().Height; h > 700 {
		t.Errorf("the menu of a passage's card is %v high", h)
	}
	w.session.SelectNote(2, false)
	if h := widget.NewMenu(w.contextMenu(noteMenus)).MinSize().Height; h > 700 {
		t.Errorf("the menu of a note is %v high", h)
	}
	for _, name := range shown {
		if h := widget.NewMenu(w.subMenu(name).ChildMenu).MinSize().Height; h > 700 || h < 20 {
			t.Errorf("the menu %s is %v high", name, h)
		}
	}
}

func TestKeysUnderADialogMeanNothing(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	before := w.session.Chart()
	w.showMenu(w.top.menu)
	w.win.Canvas().OnTypedRune()('c')
	if w.session.Chart() != before {
		t.Error("a letter typed under a menu wrote a note")
	}
}

func TestEveryConsoleIsDrawnInside(t *testing.T) {
	for _, k := range project.Consoles() {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
		if err := w.session.SetHead("x", "", k.ID); err != nil {
			t.Fatal(err)
		}
		l, size := w.console.layout, w.console.keys.raster.Size()
		if l.Console.ID != k.ID {
			t.Fatalf("the console shown is %s, want %s", l.Console.ID, k.ID)
		}
		all := l.Upper.Union(l.Lower).Union(l.Pedal)
		if all.X < 0 || all.Y < 0 || all.Right() > float64(size.Width)+1 || all.Bottom() > float64(size.Height)+1 {
			t.Errorf("%s: %v leaves %v", k.ID, all, size)
		}
	}
}

func TestSentences(t *testing.T) {
	for in, want := range map[string]string{
		"tune.mxl: there is no such file": "tune.mxl: there is no such file.",
		"the file is empty":               "The file is empty.",
		"meter \"3/5\": write 3/4":        "Meter \"3/5\": write 3/4.",
	} {
		if got := session.Sentence(errors.New(in)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestProsePrintsAccidentals(t *testing.T) {
	for in, want := range map[string]string{
		"Bb is borrowed from Gm6, the chord.": "B♭ is borrowed from Gm6, the chord.",
		"it sounds as D7b9#5 (F#).":           "it sounds as D7♭9♯5 (F♯).",
		"Before the bass By the Abbey":        "Before the bass By the Abbey",
	} {
		if got := prose(in); got != want {
			t.Errorf("%q: got %q", in, got)
		}
	}
}

func typeName(v any) string { return fmt.Sprintf("%T", v) }
