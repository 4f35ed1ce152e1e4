//go:build linux && !android

package device

import (
	"errors"
	"io/fs"
	"os"
)

// sequencer is the kernel's MIDI service. The driver complains on the terminal
// when it is not there, so it is asked for first.
const sequencer = "/dev/snd/seq"

var (
	errNoSequencer = errors.New("no MIDI ports: this system has no MIDI service (" + sequencer + ")")
	errForbidden   = errors.New("no MIDI ports: this user may not use " + sequencer + "; become a member of its group")
)

// available says in a sentence why there can be no ports.
func available() error { return openable(sequencer) }

func openable(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	switch {
	case errors.Is(err, fs.ErrPermission):
		return errForbidden
	case err != nil:
		return errNoSequencer
	}
	f.Close()
	return nil
}
