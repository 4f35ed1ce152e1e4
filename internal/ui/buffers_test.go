package ui

import (
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/player"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// bufferedSound keeps what it is set to.
type bufferedSound struct {
	session.Sound
	profile player.Profile
}

func (s *bufferedSound) setBuffers(p player.Profile) { s.profile = p }

// TestBuffersAreChosen chooses each of the sound's buffers by its command.
func TestBuffersAreChosen(t *testing.T) {
	sound := &bufferedSound{}
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.opts.Sound = sound
	if Buffers(w.app) != player.LiveProfile {
		t.Errorf("at first %+v", Buffers(w.app))
	}
	for b, of := range bufferings {
		if !w.commands.Find(of.command).Enabled(w.session) {
			t.Errorf("%s does not apply", of.command)
		}
		w.run(of.command)
		if sound.profile != of.profile || Buffers(w.app) != of.profile || w.prefs.buffers() != b {
			t.Errorf("%s: the sound has %+v, remembered is %+v", of.command, sound.profile, Buffers(w.app))
		}
		for _, item := range w.menu("Sound buffer").Items {
			if item.Checked != (item.Label == w.menuItem(w.commands.Find(of.command), "Sound buffer").Label) {
				t.Errorf("%s: %q is checked: %v", of.command, item.Label, item.Checked)
			}
		}
	}
	w.prefs.SetString("sound buffer", "of another version")
	if w.prefs.buffers() != command.BuffersUsual {
		t.Error("an unknown word is not taken for the usual buffers")
	}
}
