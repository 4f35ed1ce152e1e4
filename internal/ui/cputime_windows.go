package ui

import (
	"syscall"
	"time"
)

// processorTime is what the program has used of all cores until now, 0 where
// the system does not tell.
func processorTime() time.Duration {
	self, err := syscall.GetCurrentProcess()
	if err != nil {
		return 0
	}
	var created, ended, kernel, user syscall.Filetime
	if syscall.GetProcessTimes(self, &created, &ended, &kernel, &user) != nil {
		return 0
	}
	// A duration in a Filetime counts steps of 100 ns.
	steps := int64(kernel.HighDateTime)<<32 + int64(kernel.LowDateTime) + int64(user.HighDateTime)<<32 + int64(user.LowDateTime)
	return time.Duration(steps * 100)
}
