package midi_test

import (
	"fmt"
	"slices"
	"sync"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
)

// recorder is an instrument that writes down what is played on it.
type recorder struct {
	mu     sync.Mutex
	down   map[[2]int]bool
	lines  []string
	places [3]player.Place
	out    []player.Outside
}

func (r *recorder) LiveKey(d arrange.Division, key int, down bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.down == nil {
		r.down = map[[2]int]bool{}
	}
	if down {
		r.down[[2]int{int(d), key}] = true
	} else {
		delete(r.down, [2]int{int(d), key})
	}
}

func (r *recorder) write(line string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.lines = append(r.lines, line)
}

func (r *recorder) LiveDrawbar(d arrange.Division, bar, value int) {
	r.write(fmt.Sprintf("%v drawbar %d at %d", d, bar, value))
}
func (r *recorder) LiveSwell(v float64)         { r.write(fmt.Sprintf("swell %.2f", v)) }
func (r *recorder) LiveRotary(s project.Rotary) { r.write("rotary " + s.String()) }

func (r *recorder) SetPlaces(p [3]player.Place) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.places = p
	r.down = nil // as the player does
}

func (r *recorder) TakeOutside(into []player.Outside) int {
	r.mu.Lock()
	defer r.mu.Unlock()
	n := copy(into, r.out)
	r.out = r.out[n:]
	return n
}

// play has the score do something on a division that sounds outside.
func (r *recorder) play(o player.Outside) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.out = append(r.out, o)
}

func (r *recorder) held() (keys [][2]int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for k := range r.down {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b [2]int) int { return slices.Compare(a[:], b[:]) })
	return keys
}

func (r *recorder) wrote() []string {
	r.mu.Lock()
	defer r.mu.Unlock()
	return slices.Clone(r.lines)
}

// at opens a hub on a desk and waits until its ports are open.
func at(t testing.TB, d *miditest.Desk, s midi.Setup) (*midi.Hub, *recorder) {
	t.Helper()
	r := &recorder{}
	h := midi.New(d, r, s)
	t.Cleanup(h.Close)
	settle(t, h)
	return h, r
}

// settle waits for a look at the ports that began after now.
func settle(t testing.TB, h *midi.Hub) {
	t.Helper()
	h.Look()
	if !miditest.Until(func() bool { return h.State().Looked }) {
		t.Fatal("the ports are never looked for")
	}
}

// failing is what a test and a property have in common.
type failing interface {
	Helper()
	Fatalf(format string, args ...any)
}

func until(t failing, what string, f func() bool) {
	t.Helper()
	if !miditest.Until(f) {
		t.Fatalf("%s does not come true", what)
	}
}

func open(h *midi.Hub, name string) func() bool {
	return func() bool {
		s := h.State()
		for _, p := range append(s.Inputs, s.Outputs...) {
			if p.Name == name && p.Open {
				return true
			}
		}
		return false
	}
}

// events takes everything a window would be told of.
func events(h *midi.Hub) (list []midi.Event) {
	var batch [64]midi.Event
	for n := h.Take(batch[:]); n > 0; n = h.Take(batch[:]) {
		list = append(list, batch[:n]...)
	}
	return list
}

// keyboard is a hub with one open input, which plays on what is returned as well.
func keyboard(t *testing.T, name string, setup midi.Setup) (*miditest.Desk, *midi.Hub, *recorder) {
	t.Helper()
	d := &miditest.Desk{}
	d.Plug(name, "")
	h, r := at(t, d, setup)
	until(t, "the port opens", open(h, name))
	return d, h, r
}

func equal(t *testing.T, what string, got, want [][2]int) {
	t.Helper()
	if !slices.Equal(got, want) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

const upper, lower, pedal = int(arrange.Upper), int(arrange.Lower), int(arrange.Pedal)

func TestChannelsPlayDivisions(t *testing.T) {
	d, h, r := keyboard(t, "organ bench", midi.DefaultSetup())
	d.Play("organ bench", 0x90, 60, 90)
	d.Play("organ bench", 0x91, 48, 90)
	d.Play("organ bench", 0x92, 36, 90)
	d.Play("organ bench", 0x93, 70, 90) // channel 4 plays nothing
	equal(t, "three channels", r.held(), [][2]int{{upper, 60}, {lower, 48}, {pedal, 36}})
	d.Play("organ bench", 0x90, 60, 0)
	d.Play("organ bench", 0x81, 48, 64)
	equal(t, "released both ways", r.held(), [][2]int{{pedal, 36}})
	d.Play("organ bench", 0xB2, 123, 0)
	equal(t, "all notes off", r.held(), nil)
	kinds := map[midi.EventKind]int{}
	for _, e := range events(h) {
		kinds[e.Kind]++
		if (e.Kind == midi.KeyPressed || e.Kind == midi.KeyReleased) && e.When.IsZero() {
			t.Error("a key without its time")
		}
	}
	if kinds[midi.KeyPressed] != 3 || kinds[midi.KeyReleased] != 3 || kinds[midi.PortsChanged] == 0 {
		t.Errorf("the window is told of %v", kinds)
	}
}

func TestOneKeyboardForTwoDivisions(t *testing.T) {
	setup := midi.DefaultSetup().WithRule(midi.PortRule{Name: "small keys", All: midi.ToUpper, Split: 60, Below: midi.ToPedal, Octaves: -1})
	d, _, r := keyboard(t, "small keys", setup)
	d.Play("small keys", 0x95, 60, 1)
	d.Play("small keys", 0x95, 59, 1)
	d.Play("small keys", 0x95, 5, 1) // an octave lower there is no key
	equal(t, "split at middle C, an octave lower", r.held(), [][2]int{{upper, 48}, {pedal, 47}})
}

// TestAKeyComesUpWhereItWentDown changes what a channel plays while a key is
// held.
func TestAKeyComesUpWhereItWentDown(t *testing.T) {
	d, h, r := keyboard(t, "keys", midi.DefaultSetup())
	d.Play("keys", 0x90, 60, 90)
	h.SetSetup(h.Setup().WithChannel(1, midi.ToPedal))
	d.Play("keys", 0x80, 60, 0)
	equal(t, "released", r.held(), nil)
	d.Play("keys", 0x90, 60, 90)
	equal(t, "pressed anew", r.held(), [][2]int{{pedal, 60}})
}

func TestUnpluggingReleases(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("one", "")
	d.Plug("two", "")
	h, r := at(t, d, midi.DefaultSetup())
	until(t, "one opens", open(h, "one"))
	until(t, "two opens", open(h, "two"))
	d.Play("one", 0x90, 60, 90)
	d.Play("two", 0x91, 64, 90)
	d.Unplug("one")
	h.Look()
	until(t, "the key of the port that is gone comes up", func() bool { return len(r.held()) == 1 })
	equal(t, "the other's stays", r.held(), [][2]int{{lower, 64}})
	d.Plug("one", "")
	h.Look()
	until(t, "it comes back", func() bool { return d.Play("one", 0x90, 62, 90) })
	h.SetSetup(h.Setup().WithRule(midi.PortRule{Name: "two", Off: true}))
	until(t, "a port that is switched off lets go", func() bool { return !slices.Contains(r.held(), [2]int{lower, 64}) })
}

func TestAPortThatDoesNotOpen(t *testing.T) {
	d := &miditest.Desk{}
	d.Refuse("taken")
	d.Plug("taken", "")
	h, _ := at(t, d, midi.DefaultSetup())
	until(t, "the page says so", func() bool { s := h.State(); return len(s.Inputs) == 1 && s.Inputs[0].Err != "" })
	if s := h.State(); s.Inputs[0].Open || !s.Inputs[0].There {
		t.Errorf("%+v", s.Inputs[0])
	}
}

func TestNoPortsSaysWhy(t *testing.T) {
	h := midi.New(midi.Nowhere{Err: fmt.Errorf("this system has no MIDI")}, &recorder{}, midi.DefaultSetup())
	defer h.Close()
	until(t, "the reason", func() bool { return h.State().Err == "this system has no MIDI" })
}

func TestControllersWorkControls(t *testing.T) {
	d, h, r := keyboard(t, "faders", midi.DefaultSetup().WithBinding(midi.Play, midi.Controller{Number: 80, Channel: 2}))
	for _, m := range [][]byte{
		{0xB0, 11, 127}, {0xB5, 11, 0}, {0xB0, 1, 127}, {0xB0, 1, 0}, {0xB0, 102, 127}, {0xB0, 111, 63}, {0xB0, 17, 16},
		{0xB1, 80, 127}, {0xB1, 80, 126}, {0xB1, 80, 0}, {0xB1, 80, 127}, {0xB3, 80, 127}, {0xB0, 70, 5},
	} {
		d.Play("faders", m...)
	}
	want := []string{"swell 1.00", "swell 0.00", "rotary fast", "rotary slow", "upper drawbar 0 at 8", "lower drawbar 0 at 4", "pedal drawbar 1 at 1"}
	if got := r.wrote(); !slices.Equal(got, want) {
		t.Errorf("played %q, want %q", got, want)
	}
	pressed := 0
	for _, e := range events(h) {
		if e.Kind == midi.Pressed && e.Control == midi.Play {
			pressed++
		}
	}
	if pressed != 2 {
		t.Errorf("the switch was pressed %d times, want 2", pressed)
	}
}

func TestValuesOfControllers(t *testing.T) {
	for v, want := range map[uint8]int{0: 0, 7: 0, 8: 1, 63: 4, 64: 4, 119: 7, 120: 8, 127: 8} {
		if got := midi.DrawbarValue(v); got != want {
			t.Errorf("%d puts the drawbar at %d, want %d", v, got, want)
		}
	}
}

func TestLearning(t *testing.T) {
	d, h, r := keyboard(t, "bench", midi.DefaultSetup())
	events(h)
	h.LearnControl(midi.Rotary)
	d.Play("bench", 0x90, 60, 90) // a key is no controller
	d.Play("bench", 0xB2, 11, 5)
	d.Play("bench", 0xB2, 11, 6)
	h.LearnKeyboard(midi.ToPedal)
	d.Play("bench", 0x9F, 40, 90)
	var got []string
	for _, e := range events(h) {
		switch e.Kind {
		case midi.Learned:
			got = append(got, fmt.Sprintf("%v by %v", e.Control, e.Controller))
		case midi.KeyboardLearned:
			got = append(got, fmt.Sprintf("%v by channel %d of %s", e.Target, e.Channel, e.Port))
		}
	}
	if want := []string{"rotary speaker by CC 11, channel 3", "pedal by channel 16 of bench"}; !slices.Equal(got, want) {
		t.Errorf("learned %q, want %q", got, want)
	}
	if want := []string{"swell 0.05"}; !slices.Equal(r.wrote(), want) {
		t.Errorf("the first message is learned from, the second played: %q", r.wrote())
	}
	equal(t, "the key that was learned from is silent", r.held(), [][2]int{{upper, 60}})
}

// sentKeys returns which keys are down on an organ that knows no message but
// those for single keys. It counts no presses.
func sentKeys(list [][]byte) (down map[[2]byte]int) {
	down = map[[2]byte]int{}
	for _, m := range list {
		switch at := [2]byte{m[0] & 15, m[1]}; m[0] & 0xF0 {
		case 0x90:
			down[at] = 1
		case 0x80:
			delete(down, at)
		}
	}
	return down
}

func TestAnOrganOutside(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("keys", "great organ")
	setup := midi.DefaultSetup().WithOutlet(arrange.Upper, midi.Outlet{Port: "great organ", Channel: 5, Alone: true})
	h, r := at(t, d, setup.WithOutlet(arrange.Lower, midi.Outlet{Port: "great organ", Channel: 6}))
	until(t, "the organ opens", open(h, "great organ"))
	until(t, "the keys open", open(h, "keys"))
	if r.places != [3]player.Place{player.Away, player.Both, player.Here} {
		t.Errorf("the divisions sound at %v", r.places)
	}
	d.Play("keys", 0x90, 60, 80)
	until(t, "a key goes out on its channel", func() bool { return len(d.Sent("great organ")) == 1 })
	if m := d.Sent("great organ")[0]; !slices.Equal(m, []byte{0x94, 60, 80}) {
		t.Errorf("sent % x", m)
	}
	r.mu.Lock()
	r.out = []player.Outside{{Kind: player.OutsideDown, Division: arrange.Upper, Key: 60}, {Kind: player.OutsideDown, Division: arrange.Lower, Key: 50},
		{Kind: player.OutsideUp, Division: arrange.Upper, Key: 60}, {Kind: player.OutsideSwell, Division: arrange.Upper, Value: 1}}
	r.mu.Unlock()
	until(t, "the score goes out", func() bool { return len(d.Sent("great organ")) == 3 })
	want := map[[2]byte]int{{4, 60}: 1, {5, 50}: 1}
	if got := sentKeys(d.Sent("great organ")); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("down outside %v, want %v: the hand still holds the key that the score lets go", got, want)
	}
	h.SetSetup(h.Setup().WithOutlet(arrange.Upper, midi.Outlet{Port: "great organ", Channel: 9}))
	until(t, "the channel that was left is released", func() bool { return len(sentKeys(d.Sent("great organ"))) == 1 })
	h.Close()
	if got := sentKeys(d.Sent("great organ")); len(got) != 0 {
		t.Errorf("down outside after closing: %v", got)
	}
}

func TestAnOrganThatGoesGivesItsDivisionBack(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("", "organ")
	h, r := at(t, d, midi.DefaultSetup().WithOutlet(arrange.Pedal, midi.Outlet{Port: "organ", Channel: 1, Alone: true}))
	place := func(want player.Place) func() bool {
		return func() bool { r.mu.Lock(); defer r.mu.Unlock(); return r.places[arrange.Pedal] == want }
	}
	until(t, "it sounds outside", place(player.Away))
	d.Unplug("organ")
	h.Look()
	until(t, "it sounds here", place(player.Here))
	until(t, "the page says that it is not there", func() bool {
		s := h.State()
		return len(s.Outputs) == 1 && !s.Outputs[0].There && s.Outputs[0].Err != ""
	})
	d.Plug("", "organ")
	h.Look()
	until(t, "it sounds outside again", place(player.Away))
}
