//go:build unix

package ui

import (
	"syscall"
	"time"
)

// processorTime is what the program has used of all cores until now, 0 where
// the system does not tell.
func processorTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
