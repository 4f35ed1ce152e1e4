package ui

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"organbook/internal/arrange"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
)

// monkeyNumber reads a number of the monkey's from the environment: ORGANBOOK_MONKEY
// is how many things it does, as in ORGANBOOK_MONKEY=25000 for the long run before
// a release, and ORGANBOOK_MONKEY_SEED which things.
func monkeyNumber(t *testing.T, variable string, usual int) int {
	t.Helper()
	text := os.Getenv(variable)
	if text == "" {
		return usual
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestMonkeyAtTheWindow lets a seeded monkey type, click, drag, turn the wheel,
// resize, answer dialogs, play keys from outside, let time pass and quit: nothing
// panics, the chart is whole after each, undoing everything gives back the chart
// that was opened, redoing the one there was, and a file the same.
func TestMonkeyAtTheWindow(t *testing.T) {
	home := t.TempDir()
	t.Chdir(home) // whatever it saves
	t.Setenv("HOME", home)
	t.Cleanup(func() { _ = speak("en") })
	seed := monkeyNumber(t, "ORGANBOOK_MONKEY_SEED", 3)
	m := &monkey{Rand: rand.New(rand.NewPCG(uint64(seed), 7)), t: t, home: home, did: map[string]int{}}
	m.open()
	for i := range monkeyNumber(t, "ORGANBOOK_MONKEY", 500) {
		did := m.step()
		chart := m.w.session.Chart()
		if err := chart.Check(); err != nil {
			t.Fatalf("seed %d, step %d, %s: %v", seed, i, did, err)
		}
		if m.opened != m.w.session.Opened() {
			m.first, m.opened = chart, m.w.session.Opened()
		}
		if len(chart.Bars) > 48 {
			m.w.session.SelectBars(8, len(chart.Bars)-1)
			m.w.session.RemoveBars()
		}
		if i%250 == 249 {
			m.readBack()
			m.undoAll()
		}
	}
	t.Log(m.did)
}

// monkey plays with a window.
type monkey struct {
	*rand.Rand
	t      *testing.T
	home   string
	w      *Window
	sound  *tape
	stop   chan struct{} // ends the clock that the monkey is
	first  *project.Chart
	opened int
	did    map[string]int // how often it did each kind of thing
}

// open opens a window on an empty chart, with ports, with the journal and what was
// kept from the window before.
func (m *monkey) open() {
	m.t.Helper()
	d := &miditest.Desk{}
	d.Plug("Bench, two manuals", "Church organ")
	m.sound = &tape{level: -12}
	m.w = open(m.t, Options{
		Chart: project.New(), Sound: m.sound, Journal: filepath.Join(m.home, "journal"), Own: filepath.Join(m.home, "own.json"),
		SetScale:  func(int) {},
		Keyboards: func(s midi.Setup) *midi.Hub { return midi.New(d, mute{}, s) },
	}, alwaysDark, fyne.NewSize(1280, 720))
	m.t.Cleanup(m.w.keyboards.close)
	m.stop = make(chan struct{})
	m.first, m.opened = m.w.session.Chart(), m.w.session.Opened()
}

// undoAll goes back to the chart that was opened, or as far as the history
// reaches, and now and then forward again.
func (m *monkey) undoAll() {
	m.t.Helper()
	s := m.w.session
	const kept = 999 // what the history remembers
	last, n := s.Chart(), 0
	for ; s.CanUndo(); n++ {
		s.Undo()
	}
	if n < kept && !s.Chart().Equal(m.first) {
		m.t.Fatal("undo to the start does not give the first chart back")
	}
	if m.IntN(3) > 0 {
		return
	}
	for range n {
		s.Redo()
	}
	if !s.Chart().Equal(last) {
		m.t.Fatal("doing all of it again does not give the last chart back")
	}
}

// readBack writes the chart and reads it again.
func (m *monkey) readBack() {
	m.t.Helper()
	var file bytes.Buffer
	if err := project.Write(&file, m.w.session.Chart()); err != nil {
		m.t.Fatal(err)
	}
	again, err := project.Read(&file)
	if err != nil {
		m.t.Fatal(err)
	}
	if !again.Equal(m.w.session.Chart()) {
		m.t.Fatal("the chart is another when it is read again")
	}
}

var monkeyKeys = []fyne.KeyName{
	fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyReturn, fyne.KeyEscape, fyne.KeyTab, fyne.KeySpace,
	fyne.KeyBackspace, fyne.KeyDelete, fyne.KeyHome, fyne.KeyEnd, fyne.KeyPageUp, fyne.KeyPageDown, fyne.KeyF1, fyne.KeyF2, fyne.KeyF3, fyne.KeyF4, fyne.KeyF5,
}

var monkeyRunes = []rune("abcdefgABCDEFG1248631234567890#-+_./jtlikpwhrv,;<>[]mM7 ♯é")

// monkeyLines are what it writes into the fields of dialogs: answers to each, and
// some to none.
var monkeyLines = []string{
	"", "Brass", "3/4", "6/8", "5/4", "7/9", "G minor", "Bb", "F# minor", "H", "1", "1, 2", "1.5", "0", "62", "180", "1e9", "-3", "50 %",
	"tune", "song.organbook", "no/such/folder/x", "C2-C7", "25", "12", "Bridge", "Dm7b5/Ab", "C7alt", "transpose", "record", "quit", "“é♯”",
}

// step does one random thing and says what.
func (m *monkey) step() string {
	things := []struct {
		name   string
		weight int
		do     func(fyne.Canvas) string
	}{
		{"type", 5, m.typeRune}, {"press", 4, m.press}, {"command", 5, m.command}, {"tap", 2, m.tap}, {"drag", 2, m.drag}, {"pull", 2, m.pull},
		{"wheel", 2, m.wheel}, {"size", 1, m.size}, {"play", 2, m.play}, {"pass", 2, m.pass}, {"control", 3, m.control}, {"answer", 3, m.answer}, {"leave", 1, m.leave},
	}
	total := 0
	for _, x := range things {
		total += x.weight
	}
	at := m.IntN(total)
	for _, x := range things {
		if at -= x.weight; at < 0 {
			m.did[x.name]++
			return x.do(m.w.win.Canvas())
		}
	}
	panic("the weights do not add up")
}

func (m *monkey) typeRune(canvas fyne.Canvas) string {
	r := monkeyRunes[m.IntN(len(monkeyRunes))]
	if f := canvas.Focused(); f != nil {
		f.TypedRune(r)
	} else {
		canvas.OnTypedRune()(r)
	}
	return "typed " + string(r)
}

func (m *monkey) press(canvas fyne.Canvas) string {
	key := monkeyKeys[m.IntN(len(monkeyKeys))]
	switch f := canvas.Focused(); {
	case key == fyne.KeyTab && f != nil && m.IntN(4) == 0:
		test.FocusPrevious(canvas)
	case key == fyne.KeyTab:
		test.FocusNext(canvas)
	case f != nil:
		f.TypedKey(&fyne.KeyEvent{Name: key})
	}
	return "pressed " + string(key)
}

// command does one of the table, mostly where a dialog does not stand before it.
func (m *monkey) command(canvas fyne.Canvas) string {
	c := m.w.commands.All()[m.IntN(len(m.w.commands.All()))]
	if canvas.Overlays().Top() != nil {
		return "nothing, under a dialog"
	}
	m.w.do(c)
	m.openedAgain()
	return "did " + c.ID
}

// openedAgain opens another window when the last one was quit.
func (m *monkey) openedAgain() {
	select {
	case <-m.w.closing:
		m.did["quit"]++
		m.open()
	default:
	}
}

func (m *monkey) anywhere(canvas fyne.Canvas) fyne.Position {
	return fyne.NewPos(m.Float32()*canvas.Size().Width, m.Float32()*canvas.Size().Height)
}

func (m *monkey) tap(canvas fyne.Canvas) string {
	at := m.anywhere(canvas)
	test.MoveMouse(canvas, at)
	test.TapCanvas(canvas, at)
	m.openedAgain()
	return fmt.Sprint("tapped ", at)
}

// drag presses on the grid, goes some way and lets go.
func (m *monkey) drag(fyne.Canvas) string {
	m.pullOn(m.w.grid)
	return "dragged on the grid"
}

// pull does the same with whatever can be pulled: drawbars, keys, borders, levels.
func (m *monkey) pull(canvas fyne.Canvas) string {
	o := m.choose(canvas, func(o fyne.CanvasObject) bool {
		_, drags := o.(fyne.Draggable)
		_, presses := o.(desktop.Mouseable)
		return drags || presses
	})
	if o == nil {
		return "nothing to pull"
	}
	m.pullOn(o)
	return "pulled " + nameOf(o)
}

func (m *monkey) pullOn(o fyne.CanvasObject) {
	in := func() fyne.Position {
		return fyne.NewPos(m.Float32()*o.Size().Width, m.Float32()*o.Size().Height)
	}
	e := &desktop.MouseEvent{Button: desktop.MouseButtonPrimary, Modifier: fyne.KeyModifierShift * fyne.KeyModifier(m.IntN(2))}
	e.Position = in()
	if p, ok := o.(desktop.Mouseable); ok {
		p.MouseDown(e)
		defer p.MouseUp(e)
	}
	if d, ok := o.(fyne.Draggable); ok {
		for range m.IntN(4) {
			x := &fyne.DragEvent{Dragged: fyne.NewDelta(m.Float32()*80-40, m.Float32()*80-40)}
			x.Position = in()
			d.Dragged(x)
		}
		d.DragEnd()
	}
}

// choose picks something that can be seen, in the dialog on top if there is one;
// nil if nothing is of the kind.
func (m *monkey) choose(canvas fyne.Canvas, is func(fyne.CanvasObject) bool) fyne.CanvasObject {
	var root fyne.CanvasObject = m.w.win.Content()
	if top := canvas.Overlays().Top(); top != nil {
		root = top
	}
	var found []fyne.CanvasObject
	walk(root, func(o fyne.CanvasObject) {
		if o.Visible() && o.Size().Width > 0 && is(o) {
			found = append(found, o)
		}
	})
	if len(found) == 0 {
		return nil
	}
	return found[m.IntN(len(found))]
}

func (m *monkey) wheel(canvas fyne.Canvas) string {
	if m.IntN(2) == 0 {
		m.w.grid.scroll.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: float32(m.IntN(900) - 450)}})
		return "scrolled the grid"
	}
	at := m.anywhere(canvas)
	test.Scroll(canvas, at, float32(m.IntN(60)-30), float32(m.IntN(300)-150))
	return fmt.Sprint("scrolled at ", at)
}

func (m *monkey) size(fyne.Canvas) string {
	if m.IntN(3) == 0 {
		m.w.Scale(m.IntN(3) - 1)
		return "scaled"
	}
	m.w.win.Resize(fyne.NewSize(leastSize.Width+float32(m.IntN(1400)), leastSize.Height+float32(m.IntN(900))))
	return "resized"
}

// play is a key, a fader or a switch outside, or a port that goes.
func (m *monkey) play(fyne.Canvas) string {
	e := &midi.Event{When: time.Now(), Kind: midi.EventKind(m.IntN(int(midi.Lost) + 1)), Division: arrange.Division(m.IntN(3)), Key: 30 + m.IntN(70), Velocity: 90,
		Control: midi.Control(m.IntN(40)), Value: uint8(m.IntN(128)), Target: midi.Target(m.IntN(4)), Channel: uint8(1 + m.IntN(16)), Port: "Bench, two manuals"}
	if m.IntN(2) == 0 {
		e.Kind = midi.EventKind(m.IntN(2))
	}
	m.w.keyboards.happened(e)
	m.w.flush()
	if e.Kind == midi.Moved && m.IntN(2) == 0 {
		m.w.keyboards.keep()
	}
	return fmt.Sprintf("played %+v", *e)
}

// pass lets time pass: what sounds goes on, and the window looks.
func (m *monkey) pass(fyne.Canvas) string {
	m.sound.at += 4 * m.Float64()
	m.sound.playing = m.sound.playing && m.IntN(8) > 0
	if m.w.session.Playing() && !m.w.ticking {
		m.w.ticking, m.stop = true, make(chan struct{})
	}
	m.w.tick(m.stop)
	m.w.keyboards.drain()
	m.w.flush()
	return "let time pass"
}

// control works one of the buttons, rows and fields that can be seen.
func (m *monkey) control(canvas fyne.Canvas) string {
	second := m.IntN(4) == 0
	o := m.choose(canvas, func(o fyne.CanvasObject) bool {
		_, taps := o.(fyne.Tappable)
		_, also := o.(fyne.SecondaryTappable)
		return !second && taps || second && also
	})
	if o == nil {
		return "no control"
	}
	at := fyne.NewPos(m.Float32()*o.Size().Width, m.Float32()*o.Size().Height)
	switch d, double := o.(fyne.DoubleTappable); {
	case second:
		test.TapSecondaryAt(o.(fyne.SecondaryTappable), at)
	case double && m.IntN(2) == 0:
		d.DoubleTapped(&fyne.PointEvent{Position: at})
	default:
		test.TapAt(o.(fyne.Tappable), at)
	}
	m.openedAgain()
	return "worked " + nameOf(o)
}

// answer writes into a field and agrees, or closes what is open.
func (m *monkey) answer(canvas fyne.Canvas) string {
	line := monkeyLines[m.IntN(len(monkeyLines))]
	f := canvas.Focused()
	if s, ok := f.(fyne.Shortcutable); ok && canvas.Overlays().Top() != nil {
		s.TypedShortcut(&fyne.ShortcutSelectAll{})
		for _, r := range line {
			f.TypedRune(r)
		}
	}
	if f != nil {
		f.TypedKey(&fyne.KeyEvent{Name: []fyne.KeyName{fyne.KeyReturn, fyne.KeyReturn, fyne.KeyTab, fyne.KeyEscape}[m.IntN(4)]})
	}
	m.openedAgain()
	return "answered " + line
}

// leave closes the dialogs, as Escape would.
func (m *monkey) leave(canvas fyne.Canvas) string {
	for _, o := range slices.Backward(canvas.Overlays().List()) {
		if f := canvas.Focused(); f != nil {
			f.TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		}
		canvas.Overlays().Remove(o)
	}
	m.openedAgain()
	return "left all dialogs"
}
