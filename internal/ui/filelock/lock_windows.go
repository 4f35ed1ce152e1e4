package filelock

import (
	"os"
	"syscall"
	"unsafe"
)

var lockFileEx = syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx")

// The flags of LockFileEx: fail rather than wait, and let nobody else in.
const failImmediately, exclusive = 1, 2

// lockFile locks an open file for as long as it is open.
func lockFile(f *os.File) error {
	var place syscall.Overlapped
	ok, _, err := lockFileEx.Call(f.Fd(), failImmediately|exclusive, 0, 1, 0, uintptr(unsafe.Pointer(&place)))
	if ok == 0 {
		return err
	}
	return nil
}
