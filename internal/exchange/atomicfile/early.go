package atomicfile

import "os"

// earlyBytes is how much is written before the system is told to begin with
// it.
const earlyBytes = 2 << 20

// early is a file whose content is on its way to the disk while more is
// written, so that flushing it in the end has little left to wait for.
type early struct {
	*os.File
	begun, at int64
}

func (e *early) Write(p []byte) (int, error) {
	n, err := e.File.Write(p)
	if e.at += int64(n); e.at-e.begun >= earlyBytes {
		beginFlush(e.File, e.begun, e.at-e.begun)
		e.begun = e.at
	}
	return n, err
}

// Seek keeps count of where is written. What is written over is flushed in the
// end.
func (e *early) Seek(offset int64, whence int) (int64, error) {
	at, err := e.File.Seek(offset, whence)
	e.begun, e.at = at, at
	return at, err
}
