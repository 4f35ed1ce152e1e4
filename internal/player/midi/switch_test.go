package midi_test

import (
	"fmt"
	"slices"
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
)

// pressed takes the events and lists the switches among them.
func pressed(h *midi.Hub) (list []string) {
	for _, e := range events(h) {
		switch e.Kind {
		case midi.Pressed:
			list = append(list, e.Control.String())
		case midi.Learned:
			list = append(list, fmt.Sprintf("%v by %v", e.Control, e.Controller))
		}
	}
	return list
}

// TestSwitchesWorkFromKeysAndPrograms: a key that works a switch sounds nothing
// here and outside, and the same key on another channel plays.
func TestSwitchesWorkFromKeysAndPrograms(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("keys", "organ")
	setup := midi.DefaultSetup().WithBinding(midi.Play, midi.Controller{Number: 36, Channel: 1, Source: midi.Keys}).
		WithBinding(midi.ChangeOver, midi.Controller{Number: 4, Source: midi.Programs}).
		WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 1})
	h, r := at(t, d, setup)
	until(t, "the keys open", open(h, "keys"))
	until(t, "the organ opens", open(h, "organ"))
	for _, m := range [][]byte{{0x90, 36, 90}, {0x80, 36, 0}, {0xC5, 4}, {0xC5, 5}, {0x91, 36, 90}, {0x90, 37, 90}} {
		d.Play("keys", m...)
	}
	equal(t, "the other keys play", r.held(), [][2]int{{upper, 37}, {lower, 36}})
	if got, want := pressed(h), []string{"play or stop", "rotary speaker over"}; !slices.Equal(got, want) {
		t.Errorf("pressed %q, want %q", got, want)
	}
	until(t, "one key goes out", func() bool { return len(d.Sent("organ")) == 1 })
	if m := d.Sent("organ")[0]; m[1] != 37 {
		t.Errorf("sent % x", m)
	}
}

// TestSwitchesLearnFromAnything: a control with values learns from controllers
// only, and what comes besides is played.
func TestSwitchesLearnFromAnything(t *testing.T) {
	d, h, r := keyboard(t, "keys", midi.DefaultSetup())
	events(h)
	for _, c := range []midi.Control{midi.Record, midi.Rest, midi.Silence, midi.Swell} {
		h.LearnControl(c)
		d.Play("keys", map[midi.Control][]byte{midi.Record: {0x91, 40, 90}, midi.Rest: {0xC2, 127}, midi.Silence: {0xB3, 64, 127}, midi.Swell: {0x90, 60, 90}}[c]...)
	}
	d.Play("keys", 0xC0, 3)
	d.Play("keys", 0xB0, 7, 1)
	want := []string{"record or stop by key 40, channel 2", "leave a rest by program 128, channel 3", "silence by CC 64, channel 4", "swell by CC 7, channel 1"}
	if got := pressed(h); !slices.Equal(got, want) {
		t.Errorf("learned %q, want %q", got, want)
	}
	equal(t, "the key that was learned from is silent, the other plays", r.held(), [][2]int{{upper, 60}})
}

// TestAHoldPedalHoldsNothing: an organ has no dampers. Keys come up under a
// pedal that nothing is bound to, and the standard's ways to silence a channel
// work whatever is held.
func TestAHoldPedalHoldsNothing(t *testing.T) {
	d, _, r := keyboard(t, "keys", midi.DefaultSetup())
	d.Play("keys", 0xB0, 64, 127)
	d.Play("keys", 0x90, 60, 90)
	d.Play("keys", 0x80, 60, 0)
	equal(t, "under the pedal", r.held(), nil)
	for mode := byte(120); mode < 128; mode++ {
		d.Play("keys", 0x90, 62, 90)
		d.Play("keys", 0xB0, mode, 0)
		if mode == 121 || mode == 122 { // reset controllers, local control
			equal(t, "a mode that is no silence", r.held(), [][2]int{{upper, 62}})
			continue
		}
		equal(t, fmt.Sprintf("channel mode %d", mode), r.held(), nil)
	}
}

// TestAPortIsTriedAgain opens once another program has let go of it.
func TestAPortIsTriedAgain(t *testing.T) {
	d := &miditest.Desk{}
	d.Refuse("taken")
	d.Plug("taken", "taken")
	h, _ := at(t, d, midi.DefaultSetup().WithOutlet(arrange.Upper, midi.Outlet{Port: "taken", Channel: 1}))
	until(t, "both fail", func() bool {
		s := h.State()
		return len(s.Inputs) == 1 && s.Inputs[0].Err != "" && len(s.Outputs) == 1 && s.Outputs[0].Err != ""
	})
	d.Allow("taken")
	until(t, "both open", func() bool {
		s := h.State()
		return s.Inputs[0].Open && s.Inputs[0].Err == "" && s.Outputs[0].Open && s.Outputs[0].Err == ""
	})
	until(t, "the organ is silenced, whatever it holds", func() bool {
		silent := 0
		for _, m := range d.Sent("taken") {
			if m[0]&0xF0 == 0xB0 && m[1] == 123 {
				silent++
			}
		}
		return silent == 16
	})
}

// programs lists the program changes among what was sent.
func programs(list [][]byte) (out []string) {
	for _, m := range list {
		if m[0]&0xF0 == midi.Program {
			out = append(out, fmt.Sprintf("% x", m))
		}
	}
	return out
}

// TestAnOrganCallsUpPrograms sends the program of a registration on the channels
// of its divisions, once as long as it stays, and that of a changed registration
// as well.
func TestAnOrganCallsUpPrograms(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("", "organ")
	setup := midi.DefaultSetup().WithProgram("reeds", 128).WithProgram("flute", 1).WithOutlet(arrange.Lower, midi.Outlet{Port: "organ", Channel: 4})
	h, r := at(t, d, setup.WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 3}))
	until(t, "the organ opens", open(h, "organ"))
	h.Draw("reeds")
	until(t, "both divisions", func() bool { return len(programs(d.Sent("organ"))) == 2 })
	h.Draw("reeds" + project.ChangedMark)
	h.Draw("a registration without a program")
	r.mu.Lock()
	r.out = []player.Outside{{Kind: player.OutsideStops, Division: arrange.Upper, Registration: &project.Registration{Name: "flute"}}}
	r.mu.Unlock()
	until(t, "the score's", func() bool { return len(programs(d.Sent("organ"))) == 3 })
	if got, want := programs(d.Sent("organ")), []string{"c2 7f", "c3 7f", "c2 00"}; !slices.Equal(got, want) {
		t.Errorf("sent %q, want %q", got, want)
	}
	if again, err := midi.ReadSetup(h.Setup().WithProgram("flute", 0).Write()); err != nil || len(again.Programs) != 1 || again.Programs["reeds"] != 128 {
		t.Errorf("read back %v, %v", again.Programs, err)
	}
}
