package ui

import (
	"errors"
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/ui/session"
)

const (
	// soundPatience is how long the search for a sound device may take before
	// the window says that there is none: long enough for a second try on a
	// machine that is slow to start.
	soundPatience = 3 * time.Second
	// soundLook is how often the window looks after the device from then on.
	soundLook = 500 * time.Millisecond
)

// watchSound says in the status line when there is no sound device, when one
// is lost, and when it is back. It runs beside the window until that closes.
func (w *Window) watchSound() {
	for wait := soundPatience; ; wait = soundLook {
		select {
		case <-w.closing:
			return
		case <-time.After(wait):
		}
		fyne.Do(w.lookAfterSound)
	}
}

// lookAfterSound says what has changed about the device since the last look, and
// remembers what was learned about it.
func (w *Window) lookAfterSound() {
	status := w.session.SoundStatus()
	before := w.soundSaid
	w.soundSaid = status
	defer func() { w.soundHeard = w.soundHeard || status == "" }()
	w.keepLearnedBuffers()
	switch {
	case status == before:
	case status == "" && w.soundHeard:
		w.session.Say("The sound is back.")
	case status == "":
		w.session.Say("There is a sound device now.")
	case before == "":
		w.session.Say(w.soundLine())
	}
}

// soundLine says that there is no sound, as long as it is so.
func (w *Window) soundLine() string {
	return session.Sentence(errors.New(w.soundSaid)) + " Everything else works."
}
