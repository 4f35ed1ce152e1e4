// Package filelock lets one process at a time work on something in the file
// system. A lock is a file that is held open and locked; the system lets it go
// when the process ends, however it ends.
package filelock

import (
	"errors"
	"fmt"
	"os"
	"time"
)

// ErrHeld reports that another process, or another window, holds a lock.
var ErrHeld = errors.New("the lock is held")

// Lock is a lock that was taken.
type Lock struct{ file *os.File }

// Take makes the file at path if need be and locks it; it fails with ErrHeld
// when somebody else holds it. A file that was removed between the two steps is
// tried again.
func Take(path string) (*Lock, error) {
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return nil, err
		}
		if err := lockFile(f); err != nil {
			f.Close()
			return nil, ErrHeld
		}
		if sameFile(f, path) {
			return &Lock{f}, nil
		}
		f.Close()
	}
}

// Wait is Take that waits for a lock that is held, at most so long.
func Wait(path string, patience time.Duration) (*Lock, error) {
	const again = 5 * time.Millisecond
	for end := time.Now().Add(patience); ; time.Sleep(again) {
		l, err := Take(path)
		if !errors.Is(err, ErrHeld) {
			return l, err
		}
		if time.Now().After(end) {
			return nil, fmt.Errorf("%s: %w by another window", path, err)
		}
	}
}

func sameFile(f *os.File, path string) bool {
	mine, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := os.Stat(path)
	return err == nil && os.SameFile(mine, there)
}

// Release unlocks the file and leaves it.
func (l *Lock) Release() { l.file.Close() }

// Remove takes the file away and unlocks it, in the order the system allows.
func (l *Lock) Remove() {
	name := l.file.Name()
	if os.Remove(name) != nil { // some systems keep open files
		l.file.Close()
		os.Remove(name)
		return
	}
	l.file.Close()
}
