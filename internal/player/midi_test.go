package player_test

import (
	"testing"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/midi"
	"organbook/internal/player/midi/miditest"
	"organbook/internal/project"
)

// TestAKeyboardIsHeardUntilItIsUnplugged plays the real instrument through the
// real hub on a virtual port: from the message to the level of the sound.
func TestAKeyboardIsHeardUntilItIsUnplugged(t *testing.T) {
	d := &miditest.Desk{}
	d.Plug("keys", "organ")
	p := player.Quiet()
	defer p.Close()
	r, _ := project.RegistrationByName(project.Registrations()[0].Name)
	p.SetRegistration(&r)
	h := midi.New(d, p, midi.DefaultSetup())
	defer h.Close()
	if !miditest.Until(func() bool { return d.Play("keys", 0x90, 60, 100) }) {
		t.Fatal("nobody listens to the keyboard")
	}
	loud := func() bool { return p.Level() > 0.01 }
	if !miditest.Until(loud) {
		t.Fatal("the key is not heard")
	}
	h.SetSetup(h.Setup().WithOutlet(arrange.Upper, midi.Outlet{Port: "organ", Channel: 1, Alone: true}))
	if !miditest.Until(func() bool { s := h.State(); return s.Outputs[0].Open && p.Level() < 1e-3 }) {
		t.Fatal("the division sounds here though it is sent away")
	}
	d.Play("keys", 0x90, 64, 100)
	if !miditest.Until(func() bool { return len(d.Sent("organ")) > 0 }) {
		t.Fatal("nothing is sent to the organ")
	}
	d.Unplug("organ")
	d.Unplug("keys")
	h.Look()
	if !miditest.Until(func() bool { return len(h.State().Inputs) == 0 }) {
		t.Fatal("the keyboard stays")
	}
	time.Sleep(50 * time.Millisecond)
	p.Level()
	if !miditest.Until(func() bool { return p.Level() < 1e-3 }) {
		t.Error("a key hangs after its keyboard was unplugged")
	}
}
