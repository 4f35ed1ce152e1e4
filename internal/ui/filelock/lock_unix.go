//go:build unix

package filelock

import (
	"os"
	"syscall"
)

// lockFile locks an open file for as long as it is open.
func lockFile(f *os.File) error {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
}
