package device

import (
	"errors"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"gitlab.com/gomidi/midi/v2/drivers/rtmididrv/imported/rtmidi"
)

func TestSteadyNames(t *testing.T) {
	raw := []string{"Midi Through:Midi Through Port-0 14:0", "Keys:Keys MIDI 1 20:0", "Keys:Keys MIDI 1 24:0", "bench:left 130:1", "", "Plain"}
	want := []string{"Midi Through Port-0", "Keys MIDI 1", "Keys MIDI 1 (2)", "bench:left", "unnamed port", "Plain"}
	list := make([]port, len(raw))
	for i, name := range raw {
		list[i] = port{number: i + 3, raw: name}
	}
	for i, p := range steady(list) {
		if p != (port{number: i + 3, raw: raw[i], name: want[i]}) {
			t.Errorf("%q: %+v, want %q", raw[i], p, want[i])
		}
	}
}

// TestWithoutAService says one sentence and prints nothing.
func TestWithoutAService(t *testing.T) {
	ins, outs, err := new(System).Ports()
	if err == nil {
		t.Logf("this machine has ports: %q and %q", ins, outs)
		return
	}
	if len(ins)+len(outs) != 0 || !strings.HasPrefix(err.Error(), "no MIDI ports: ") {
		t.Errorf("ports %q %q, error %q", ins, outs, err)
	}
}

// TestLoopBack sends a key through the system's own sequencer and closes ports
// while they are played, which must neither hang nor end the program.
func TestLoopBack(t *testing.T) {
	if err := available(); err != nil {
		t.Skip("needs a MIDI service: ", err)
	}
	organ, err := rtmidi.NewMIDIInDefault()
	if err != nil {
		t.Skip("needs a MIDI service: ", err)
	}
	defer organ.Destroy()
	var mu sync.Mutex
	var heard [][]byte
	if err := errors.Join(
		organ.SetCallback(func(_ rtmidi.MIDIIn, b []byte, _ float64) { mu.Lock(); heard = append(heard, b); mu.Unlock() }),
		organ.OpenVirtualPort("test organ")); err != nil {
		t.Skip("no virtual ports here: ", err)
	}
	system := &System{}
	_, outs, err := system.Ports()
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(outs, func(s string) bool { return strings.Contains(s, "test organ") })
	if i < 0 {
		t.Fatalf("the virtual organ is not among %q", outs)
	}
	for range 20 {
		out, err := system.OpenOutput(outs[i])
		if err != nil {
			t.Fatal(err)
		}
		for key := range byte(50) {
			if err := out.Send([]byte{0x90, key, 100}); err != nil {
				t.Fatal(err)
			}
		}
		out.Close()
	}
	for end := time.Now().Add(5 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		mu.Lock()
		n := len(heard)
		mu.Unlock()
		if n == 1000 {
			return
		}
	}
	t.Errorf("%d of 1000 messages came through", len(heard))
}

// TestClosingWhilePlayed closes inputs in the middle of a stream of messages and
// then takes the port away, which must neither hang nor end the program.
func TestClosingWhilePlayed(t *testing.T) {
	if err := available(); err != nil {
		t.Skip("needs a MIDI service: ", err)
	}
	keys, err := rtmidi.NewMIDIOutDefault()
	if err != nil {
		t.Skip("needs a MIDI service: ", err)
	}
	if err := keys.OpenVirtualPort("test keys"); err != nil {
		t.Skip("no virtual ports here: ", err)
	}
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for {
			select {
			case <-stop:
				return
			default:
				keys.SendMessage([]byte{0x90, 60, 100})
				time.Sleep(20 * time.Microsecond)
			}
		}
	}()
	quiet := sync.OnceFunc(func() { close(stop); <-done })
	defer quiet()
	system := &System{}
	for range 50 {
		ins, _, err := system.Ports()
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(ins, func(s string) bool { return strings.Contains(s, "test keys") })
		if i < 0 {
			t.Fatalf("the virtual keys are not among %q", ins)
		}
		in, err := system.OpenInput(ins[i], func([]byte) {})
		if err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Millisecond)
		in.Close()
	}
	quiet()
	keys.Destroy()
	for range 3 {
		if _, _, err := system.Ports(); err != nil {
			t.Fatal(err)
		}
	}
	if n := len(system.graves.list); n > 0 {
		t.Errorf("%d handles outlive their port", n)
	}
}
