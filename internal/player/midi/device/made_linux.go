//go:build linux && !android

package device

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"syscall"
)

// soundDevices holds the files of the kernel's sound devices.
const soundDevices = "/dev/snd"

// The kernel's sequencer numbers the clients of cards from 16 on, four for each
// card, up to the first number that it gives to programs (sound/core/seq of the
// kernel's source: SNDRV_SEQ_GLOBAL_CLIENTS, SNDRV_SEQ_CLIENTS_PER_CARD,
// SNDRV_SEQ_DYNAMIC_CLIENTS_BEGIN).
const firstCard, clientsOfCard, firstProgram = 16, 4, 128

var clientNumber = regexp.MustCompile(` (\d+):\d+$`)

// made returns a number that is another one after a device was plugged out and
// in again, even when it got its old number back: that of the file of its card,
// which the system makes anew each time. It is 0 for ports of programs, which
// have no card, and where there is no such file.
func made(raw string) uint64 { return madeIn(soundDevices, raw) }

func madeIn(dir, raw string) uint64 {
	m := clientNumber.FindStringSubmatch(raw)
	if m == nil {
		return 0
	}
	client, err := strconv.Atoi(m[1])
	if err != nil || client < firstCard || client >= firstProgram {
		return 0
	}
	info, err := os.Stat(filepath.Join(dir, fmt.Sprintf("controlC%d", (client-firstCard)/clientsOfCard)))
	if err != nil {
		return 0
	}
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return s.Ino
	}
	return 0
}
