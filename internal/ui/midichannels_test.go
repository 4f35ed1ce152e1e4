package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
)

func TestADivisionOfSeveralChannels(t *testing.T) {
	w, d := plugged(t, Options{}, "keys")
	pageLine(t, w, "upper")
	for _, i := range []int{4, 5, 6} {
		w.keyboards.set(w.bench.ports.line().toggle(i))
	}
	if l := w.bench.ports.line(); l.value() != "channels 1, 4–6" {
		t.Errorf("the page says %q", l.value())
	}
	plays(w, d, "keys", [3]byte{0x95, 60, 90})
	if held := w.session.Held(); len(held) != 1 || held[0].Key != 60 {
		t.Errorf("channel 6 holds %v", held)
	}
	w.keyboards.set(w.bench.ports.line().toggle(1))
	if got := w.bench.ports.line().value(); got != "channels 4–6" {
		t.Errorf("without the first channel %q", got)
	}
	w.keyboards.set(w.bench.ports.line().toggle(everyChannel))
	if got := w.keyboards.hub.Setup().ChannelsOf(midi.ToLower); len(got) != 0 || w.bench.ports.line().value() != "every channel" {
		t.Errorf("every channel plays the upper manual, and %v the lower", got)
	}
	w.run("midi.choices")
	if w.win.Canvas().Overlays().Top() == nil {
		t.Error("the choices are not listed")
	}
}

func TestChannelsInWords(t *testing.T) {
	for want, list := range map[string][]int{
		"no channel": nil, "channel 7": {7}, "channels 1, 3": {1, 3}, "channels 1–2, 16": {1, 2, 16},
		"every channel": {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16},
	} {
		if got := channelsText(list); got != want {
			t.Errorf("%v is %q, want %q", list, got, want)
		}
	}
}

// TestASwitchLearnsFromAKey and turns the speaker over, there and back.
func TestASwitchLearnsFromAKey(t *testing.T) {
	w, d := plugged(t, Options{}, "keys")
	pageLine(t, w, midi.ChangeOver.String())
	press(w, fyne.KeyReturn)
	plays(w, d, "keys", [3]byte{0x90, 36, 90})
	if got := w.bench.ports.line().value(); got != "key 36, channel 1" {
		t.Errorf("learned %q", got)
	}
	if err := w.session.SetRotary(project.RotarySlow); err != nil {
		t.Fatal(err)
	}
	for _, want := range []project.Rotary{project.RotaryFast, project.RotarySlow, project.RotaryFast} {
		plays(w, d, "keys", [3]byte{0x90, 36, 90}, [3]byte{0x80, 36, 0})
		if got := w.session.LiveRegistration().Rotary; got != want {
			t.Errorf("the speaker is %v, want %v", got, want)
		}
	}
	if len(w.session.Held()) != 0 {
		t.Error("a key that works a switch plays")
	}
}

// TestProgramsOfTheOrganOutside can be chosen once a division is sent out, and
// the organ is told at once.
func TestProgramsOfTheOrganOutside(t *testing.T) {
	w, d := plugged(t, Options{}, "organ")
	name := w.session.Heard().Registration.Name
	for _, l := range w.bench.ports.lines {
		if l.label == name {
			t.Fatalf("%q has a program before anything is sent", name)
		}
	}
	w.keyboards.set(w.keyboards.hub.Setup().WithOutlet(0, midi.Outlet{Port: "organ", Channel: 2}))
	pageLine(t, w, name)
	press(w, fyne.KeyRight)
	press(w, fyne.KeyRight)
	if got := w.bench.ports.line().value(); got != "program 2" {
		t.Errorf("the page says %q", got)
	}
	if !miditest.Until(func() bool {
		settle(w)
		for _, m := range d.Sent("organ") {
			if len(m) == 2 && m[0] == 0xC1 && m[1] == 1 {
				return true
			}
		}
		return false
	}) {
		t.Errorf("the organ was sent % x", d.Sent("organ"))
	}
}
