package ui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
)

// TestASoundDeviceThatComesLateIsNotBack: what was never there has not come back,
// and a device that is there at the first look is no news.
func TestASoundDeviceThatComesLateIsNotBack(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	hint := w.session.Message()
	if w.lookAfterSound(); hint == "" || w.session.Message() != hint {
		t.Errorf("the hint %q became %q", hint, w.session.Message())
	}
	sound = &tape{status: "no sound device: none opens"}
	w = open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	w.lookAfterSound()
	sound.status = ""
	if w.lookAfterSound(); w.session.Message() != "There is a sound device now." {
		t.Errorf("the window says %q", w.session.Message())
	}
}

// TestTheWindowSaysWhatHappensToTheSound loses the device and finds it again.
func TestTheWindowSaysWhatHappensToTheSound(t *testing.T) {
	sound := &tape{}
	w := open(t, Options{Sound: sound}, alwaysDark, fyne.NewSize(1280, 720))
	for _, look := range []struct{ status, want string }{
		{"", ""},
		{"no sound device: none answers; looking for one", "No sound device: none answers; looking for one. Everything else works."},
		{"no sound device: none that this system offers opens", ""}, // said once
		{"", "The sound is back."},
		{"", ""},
		{"no sound device: none answers; looking for one", "Everything else works."},
	} {
		w.session.Say("")
		sound.status = look.status
		w.lookAfterSound()
		if got := w.session.Message(); got == "" != (look.want == "") || !strings.Contains(got, look.want) {
			t.Errorf("status %q: the window says %q, want %q", look.status, got, look.want)
		}
	}
}
