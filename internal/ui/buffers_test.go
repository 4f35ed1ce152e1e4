package ui

import (
	"fmt"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"organbook/internal/player"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
)

// bufferedSound keeps what it is set to.
type bufferedSound struct {
	session.Sound
	profile, chosen player.Profile
	knows           player.Learned
}

func (s *bufferedSound) setBuffers(p player.Profile) { s.profile = p }
func (s *bufferedSound) buffers() player.Profile     { return s.chosen }
func (s *bufferedSound) learned() player.Learned     { return s.knows }

// TestLearnedBuffersAreRemembered for the next start, where they are not chosen.
func TestLearnedBuffersAreRemembered(t *testing.T) {
	sound := &bufferedSound{knows: player.ParseLearned("10ms 2m0s 60ms 1m0s")}
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.opts.Sound = sound
	if got := LearnedBuffers(w.app); got != (player.Learned{}) {
		t.Errorf("at first %v", got)
	}
	w.lookAfterSound()
	if got := LearnedBuffers(w.app); got != sound.knows {
		t.Errorf("%v, want %v", got, sound.knows)
	}
	w.run("buffers.safe")
	sound.knows = player.ParseLearned("5ms 1m0s 30ms 1m0s")
	w.lookAfterSound()
	if got := LearnedBuffers(w.app); got == sound.knows {
		t.Error("what plays no part is remembered")
	}
}

// TestBuffersAreChosen chooses each of the sound's buffers by its command.
func TestBuffersAreChosen(t *testing.T) {
	sound := &bufferedSound{}
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.opts.Sound = sound
	if Buffers(w.app) != player.AutomaticProfile {
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
	if w.prefs.buffers() != command.BuffersAutomatic {
		t.Error("an unknown word does not leave the buffers to the player")
	}
}

// TestBuffersThatWereChosenAreShown in the menu, in either language.
func TestBuffersThatWereChosenAreShown(t *testing.T) {
	sound := &bufferedSound{}
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	w.opts.Sound = sound
	first := func() string { return w.menu("Sound buffer").Items[0].Label }
	shows := func(want string) {
		t.Helper()
		if got := first(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	shows("automatic") // no device yet
	sound.chosen = player.ShortProfile
	shows("automatic (now short, 10 ms)")
	sound.chosen = player.LiveProfile
	shows("automatic (now usual, 30 ms)")
	w.run("buffers.safe")
	shows("automatic")
	w.run("buffers.automatic")
	inGerman(t)
	shows("automatisch (jetzt üblich, 30 ms)")
}

// TestBuffersAreAsLongAsTheirCommandsSay in the menu.
func TestBuffersAreAsLongAsTheirCommandsSay(t *testing.T) {
	w := open(t, Options{}, alwaysDark, fyne.NewSize(1280, 720))
	for _, b := range bufferings {
		if b.profile.Automatic {
			continue
		}
		if title, want := w.commands.Find(b.command).Title, fmt.Sprintf(", %d ms", b.profile.Device.Milliseconds()); !strings.HasSuffix(title, want) {
			t.Errorf("%q does not end in %q", title, want)
		}
	}
}
