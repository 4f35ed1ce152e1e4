package rescue

import (
	"errors"
	"os"
)

// errHeld reports that another window holds a lock.
var errHeld = errors.New("the lock is held")

// lock is a file that one window holds open and locked.
type lock struct{ file *os.File }

// takeLock makes the file if need be and locks it. A file that was removed
// between the two steps is tried again.
func takeLock(path string) (*lock, error) {
	for {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
		if err != nil {
			return nil, err
		}
		if err := lockFile(f); err != nil {
			f.Close()
			return nil, errHeld
		}
		if sameFile(f, path) {
			return &lock{f}, nil
		}
		f.Close()
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

// release unlocks the file and leaves it.
func (l *lock) release() { l.file.Close() }

// remove takes the file away and unlocks it, in the order the system allows.
func (l *lock) remove() {
	name := l.file.Name()
	if os.Remove(name) != nil { // some systems keep open files
		l.file.Close()
		os.Remove(name)
		return
	}
	l.file.Close()
}
