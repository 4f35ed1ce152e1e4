package ui

import (
	"runtime"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
	"organbook/internal/ui/command"
)

// mute is an instrument that sounds nothing.
type mute struct{}

func (mute) LiveKey(arrange.Division, int, bool)    {}
func (mute) LiveDrawbar(arrange.Division, int, int) {}
func (mute) LiveSwell(float64)                      {}
func (mute) LiveRotary(project.Rotary)              {}
func (mute) SetPlaces([3]player.Place)              {}
func (mute) TakeOutside(into []player.Outside) int  { return 0 }

// plugged opens a window with virtual ports and waits until they are open.
func plugged(t *testing.T, o Options, ports ...string) (*Window, *miditest.Desk) {
	t.Helper()
	d := &miditest.Desk{}
	for _, name := range ports {
		d.Plug(name, name)
	}
	posted := make(chan func(), 1000)
	o.post = func(do func()) { posted <- do }
	o.Keyboards = func(s midi.Setup) *midi.Hub { return midi.New(d, mute{}, s) }
	w := open(t, o, alwaysDark, fyne.NewSize(1280, 720))
	t.Cleanup(w.keyboards.close)
	postedTo[w] = posted
	t.Cleanup(func() { delete(postedTo, w) })
	if !miditest.Until(func() bool { return openInputs(w.keyboards.hub.State()) == len(ports) }) {
		t.Fatal("the ports do not open")
	}
	settle(w)
	return w, d
}

// plays sends messages and lets the window take what they did.
func plays(w *Window, d *miditest.Desk, port string, messages ...[3]byte) {
	for _, m := range messages {
		d.Play(port, m[:]...)
	}
	settle(w)
}

// postedTo holds what is to be done on the goroutine of a window.
var postedTo = map[*Window]chan func(){}

// settle does what was posted to a window and brings its panels up to date.
func settle(w *Window) {
	for {
		select {
		case do := <-postedTo[w]:
			do()
		default:
			w.keyboards.drain()
			w.flush()
			return
		}
	}
}

func TestAKeyboardLightsTheConsoleAndWrites(t *testing.T) {
	w, d := plugged(t, Options{Chart: project.New()}, "keys")
	plays(w, d, "keys", [3]byte{0x90, 67, 90}, [3]byte{0x91, 48, 90})
	if len(w.console.lit) != 2 || w.console.lit[0].Key != 67 || w.console.lit[1].Division != arrange.Lower {
		t.Errorf("lit: %+v", w.console.lit)
	}
	if !w.keyboards.lit[inKey("keys")] || w.keyboards.lit[outKey("keys")] {
		t.Errorf("lit: %v", w.keyboards.lit)
	}
	if w.bench.tabs[3].label != "MIDI ●" {
		t.Errorf("the tab %q shows no activity", w.bench.tabs[3].label)
	}
	plays(w, d, "keys", [3]byte{0x80, 67, 0}, [3]byte{0x81, 48, 0})
	if len(w.console.lit) != 0 || len(w.session.Chart().Melody) != 0 {
		t.Errorf("released: %+v, %d notes", w.console.lit, len(w.session.Chart().Melody))
	}
	w.run("keys.steps")
	plays(w, d, "keys", [3]byte{0x90, 67, 90}, [3]byte{0x80, 67, 0})
	if m := w.session.Chart().Melody; len(m) != 1 || m[0].Pitch.Key() != 67 {
		t.Errorf("step entry wrote %v", m)
	}
}

func TestAPortThatGoesReleasesItsLight(t *testing.T) {
	w, d := plugged(t, Options{Chart: project.New()}, "keys")
	plays(w, d, "keys", [3]byte{0x90, 67, 90})
	d.Unplug("keys")
	w.keyboards.hub.Look()
	if !miditest.Until(func() bool { settle(w); return len(w.console.lit) == 0 }) {
		t.Error("the key stays lit")
	}
	if m := w.session.Message(); !strings.HasPrefix(m, "“keys” is unplugged") {
		t.Errorf("the window says %q", m)
	}
	d.Plug("keys", "")
	w.keyboards.hub.Look()
	if !miditest.Until(func() bool { settle(w); return w.session.Message() == "“keys” plays." }) {
		t.Errorf("the window says %q", w.session.Message())
	}
}

func TestFadersAreTakenUpWhenTheyRest(t *testing.T) {
	w, d := plugged(t, Options{}, "faders")
	before := w.session.Chart()
	plays(w, d, "faders", [3]byte{0xB0, 102, 40}, [3]byte{0xB0, 102, 127}, [3]byte{0xB0, 11, 0}, [3]byte{0xB0, 1, 127})
	if w.session.Chart() != before || w.session.LiveRegistration().Upper[0] != 8 {
		t.Fatal("a moving fader sounds and is not written yet")
	}
	if w.console.swell.value != 0 || !w.console.rotary[project.RotaryFast].on {
		t.Error("the console does not show pedal and speaker")
	}
	if !miditest.Until(func() bool { settle(w); return !w.session.HasFaders() }) {
		t.Fatal("the fader is never taken up")
	}
	if w.session.Chart().Passages[0].Registration.Upper[0] != 8 {
		t.Error("the chart does not have the drawbar")
	}
	w.run("edit.undo")
	if !w.session.Chart().Equal(before) {
		t.Error("one undo takes the movement back")
	}
}

// pageLine walks to a line of the MIDI page by its label.
func pageLine(t *testing.T, w *Window, label string) *midiLine {
	t.Helper()
	w.FocusPanel(command.MIDI)
	press(w, fyne.KeyUp)
	for range 100 {
		press(w, fyne.KeyUp)
	}
	for range w.bench.ports.lines {
		if l := w.bench.ports.line(); strings.TrimSpace(l.label) == label {
			return l
		}
		press(w, fyne.KeyDown)
	}
	t.Fatalf("no line %q", label)
	return nil
}

func TestTheMIDIPageByKey(t *testing.T) {
	w, d := plugged(t, Options{}, "keys", "organ")
	l := pageLine(t, w, "keys")
	if l.value() != "by channel" {
		t.Fatalf("a port is %q at first", l.value())
	}
	press(w, fyne.KeyRight)
	if r := w.keyboards.hub.Setup().Rule("keys"); r.All != midi.ToUpper {
		t.Errorf("Right chooses %+v", r)
	}
	press(w, fyne.KeyLeft, fyne.KeyLeft)
	if r := w.keyboards.hub.Setup().Rule("keys"); !r.Off {
		t.Errorf("Left twice chooses %+v", r)
	}
	press(w, fyne.KeyRight)
	if !miditest.Until(func() bool { return openInputs(w.keyboards.hub.State()) == 2 }) {
		t.Fatal("the port is not listened to again")
	}
	pageLine(t, w, "swell")
	press(w, fyne.KeyReturn)
	if !w.bench.ports.line().learning(w.keyboards.hub) || w.bench.ports.rows[w.bench.ports.at].more.label != "waiting…" {
		t.Error("Enter learns")
	}
	plays(w, d, "keys", [3]byte{0xB4, 7, 100})
	if by, _ := w.keyboards.hub.Setup().Bound(midi.Swell); by != (midi.Controller{Number: 7, Channel: 5}) {
		t.Errorf("learned %v", by)
	}
	press(w, fyne.KeyDelete)
	if _, bound := w.keyboards.hub.Setup().Bound(midi.Swell); bound {
		t.Error("Delete forgets")
	}
	pageLine(t, w, "pedal")
	press(w, fyne.KeyReturn)
	plays(w, d, "organ", [3]byte{0x97, 40, 100})
	if s := w.keyboards.hub.Setup(); s.Channels[7] != midi.ToPedal || s.Channels[2] != midi.Nothing {
		t.Errorf("channels %v", s.Channels)
	}
	pageLine(t, w, "upper sent to")
	press(w, fyne.KeyRight)
	if w.keyboards.hub.Setup().Outputs[0].Port != "keys" {
		t.Errorf("sent to %+v", w.keyboards.hub.Setup().Outputs[0])
	}
	if again := w.midiSetup(); again.Write() != w.keyboards.hub.Setup().Write() {
		t.Error("the setup is not remembered")
	}
}

// TestLearningAKeyboardThatSharesItsChannel takes the port as a whole where two
// keyboards speak on one channel.
func TestLearningAKeyboardThatSharesItsChannel(t *testing.T) {
	w, d := plugged(t, Options{}, "one", "two")
	pageLine(t, w, "lower")
	press(w, fyne.KeyReturn)
	plays(w, d, "two", [3]byte{0x90, 60, 90})
	s := w.keyboards.hub.Setup()
	if s.Channels[0] != midi.ToUpper || s.Rule("two").All != midi.ToLower {
		t.Errorf("channels %v, port two %+v", s.Channels, s.Rule("two"))
	}
}

func TestTheMIDIPageByMouse(t *testing.T) {
	w, d := plugged(t, Options{}, "keys")
	w.FocusPanel(command.MIDI)
	page := w.bench.ports
	for i, l := range page.lines {
		if l.label == "upper" {
			page.rows[i].more.Tapped(nil)
		}
	}
	plays(w, d, "keys", [3]byte{0x93, 60, 90})
	if w.keyboards.hub.Setup().Channels[3] != midi.ToUpper {
		t.Error("the button learns")
	}
	page.rows[0].value.Tapped(nil)
	if w.win.Canvas().Overlays().Top() == nil {
		t.Error("the value opens its choices")
	}
}

func TestThePageWithoutPorts(t *testing.T) {
	w, _ := plugged(t, Options{})
	w.FocusPanel(command.MIDI)
	if !strings.HasPrefix(w.bench.ports.none.Text, "No MIDI ports") {
		t.Errorf("%q", w.bench.ports.none.Text)
	}
	w = open(t, Options{}, alwaysLight, fyne.NewSize(1280, 720))
	w.FocusPanel(command.MIDI)
	if w.bench.ports.none.Text == "" || w.bench.ports.line() != nil {
		t.Errorf("a window without MIDI says %q", w.bench.ports.none.Text)
	}
	for _, id := range []string{"midi.down", "midi.next", "midi.learn", "midi.forget", "keys.silence"} {
		w.run(id)
	}
}

func TestLettersPlay(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	down := func(name fyne.KeyName) { w.grid.KeyDown(&fyne.KeyEvent{Name: name}) }
	up := func(name fyne.KeyName) { w.grid.KeyUp(&fyne.KeyEvent{Name: name}) }
	down(fyne.KeyQ)
	if len(w.session.Held()) != 0 {
		t.Fatal("letters play only when they are asked to")
	}
	w.run("keys.letters")
	w.run("keys.steps")
	down(fyne.KeyQ)
	typeRunes(w, "q")
	down(fyne.Key3)
	typeRunes(w, "3")
	if h := w.session.Held(); len(h) != 2 || h[0].Key != 60 || h[1].Key != 63 {
		t.Errorf("held %v", h)
	}
	up(fyne.KeyQ)
	if m := w.session.Chart().Melody; len(m) != 1 || m[0].Pitch.Key() != 63 {
		t.Errorf("two keys at once write the upper one: %v", m)
	}
	later(70 * time.Millisecond)
	down(fyne.KeyC)
	typeRunes(w, "c")
	if m := w.session.Chart().Melody; len(m) != 2 || m[1].Pitch.Key() != 52 {
		t.Errorf("a letter writes as it plays, and nothing besides: %v", m)
	}
	w.FocusPanel(command.Bench)
	if len(w.session.Held()) != 0 {
		t.Errorf("keys hang when the keyboard goes elsewhere: %v", w.session.Held())
	}
	w.run("keys.letters")
	w.FocusPanel(command.Grid)
	typeRunes(w, "c")
	if len(w.session.Chart().Melody) != 3 {
		t.Error("letters write again")
	}
}

// TestTheDrawnManualWrites slides over the drawn keys in step entry: each key
// that is reached is written.
func TestTheDrawnManualWrites(t *testing.T) {
	w := open(t, Options{Chart: project.New()}, alwaysDark, fyne.NewSize(1280, 720))
	w.run("keys.steps")
	for _, key := range []int{60, 64} {
		w.console.press(arrange.Upper, key)
		later(70 * time.Millisecond)
		w.console.release()
	}
	if m := w.session.Chart().Melody; len(m) != 2 || m[0].Pitch.Key() != 60 || m[1].Pitch.Key() != 64 || m[1].Start != project.Quarter {
		t.Errorf("written: %v", m)
	}
	if len(w.session.Held()) != 0 {
		t.Errorf("held: %v", w.session.Held())
	}
}

func TestEveryLetterPlaysAKeyOfItsOwn(t *testing.T) {
	for _, row := range []string{lowRow, highRow} {
		for i := 1; i < len(row); i++ {
			a, _ := keyOfLetter(fyne.KeyName(row[i-1 : i]))
			if b, ok := keyOfLetter(fyne.KeyName(row[i : i+1])); !ok || b != a+1 {
				t.Errorf("%c plays %d after %d", row[i], b, a)
			}
		}
	}
}

// TestLettersKeepTheirPlacesOnOtherKeyboards plays the key at the lower left and
// the one between T and U where they are called Z and Y, and where Y and Z.
func TestLettersKeepTheirPlacesOnOtherKeyboards(t *testing.T) {
	lower, between := 52, 29
	switch runtime.GOOS {
	case "windows":
		lower, between = 44, 21
	case "darwin":
		lower, between = 6, 16
	}
	for _, names := range [][2]fyne.KeyName{{fyne.KeyZ, fyne.KeyY}, {fyne.KeyY, fyne.KeyZ}} {
		w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
		w.ToggleLetters()
		for i, want := range []int{48, 69} {
			e := &fyne.KeyEvent{Name: names[i], Physical: fyne.HardwareKey{ScanCode: []int{lower, between}[i]}}
			w.grid.KeyDown(e)
			if held := w.session.Held(); len(held) != 1 || held[0].Key != want {
				t.Errorf("%s at place %d holds %v, want key %d", e.Name, i, held, want)
			}
			w.grid.KeyUp(e)
		}
		if held := w.session.Held(); len(held) != 0 {
			t.Errorf("held: %v", held)
		}
	}
}

func TestTheRampForm(t *testing.T) {
	for text, want := range map[string]float64{"80": 0.8, " 62 % ": 0.62} {
		if got, err := readPercent(text); err != nil || got != want {
			t.Errorf("%q: %v %v", text, got, err)
		}
	}
	if _, err := readPercent("quick"); err == nil {
		t.Error("quick is no percentage")
	}
}

// TestGoldenMIDIPage shows a bench of two manuals, a port that only hands
// through, and an organ that is chosen and not there.
func TestGoldenMIDIPage(t *testing.T) {
	for name, mode := range map[string]themeMode{"dark": alwaysDark, "light": alwaysLight} {
		t.Run(name, func(t *testing.T) {
			w, d := plugged(t, Options{Chart: project.New()}, "Bench, two manuals")
			d.Plug("Midi Through Port-0", "Midi Through Port-0")
			setup := w.keyboards.hub.Setup().WithOutlet(arrange.Pedal, midi.Outlet{Port: "Church organ", Channel: 3, Alone: true})
			w.keyboards.set(setup.WithRule(midi.PortRule{Name: "Bench, two manuals", Split: 48, Below: midi.ToPedal}))
			if !miditest.Until(func() bool { s := w.keyboards.hub.State(); return len(s.Inputs) == 2 && len(s.Outputs) == 3 }) {
				t.Fatal("the ports are not there")
			}
			w.look.mode = mode
			w.app.Settings().SetTheme(w.look)
			w.refreshAll()
			w.FocusPanel(command.MIDI)
			settle(w)
			compareGolden(t, "midi-"+name+".png", painted(w.bench.root, fyne.NewSize(360, 720)))
		})
	}
}
