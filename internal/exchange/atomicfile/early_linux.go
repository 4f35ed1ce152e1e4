package atomicfile

import (
	"os"
	"syscall"
)

// beginFlush has the system begin to write n bytes to the disk, without waiting
// for it. It is only a hint: what fails here fails again when the file is
// flushed.
func beginFlush(f *os.File, from, n int64) {
	const write = 2 // SYNC_FILE_RANGE_WRITE
	_ = syscall.SyncFileRange(int(f.Fd()), from, n, write)
}
