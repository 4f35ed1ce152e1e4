//go:build linux && !android && !wayland

package desktop

// #cgo LDFLAGS: -lX11
// #include <X11/Xlib.h>
import "C"

import (
	"os"
	"syscall"
	"unsafe"

	"fyne.io/fyne/v2"
	"github.com/go-gl/glfw/v3.3/glfw"
)

// promptEvents takes the screen's events in as soon as they come, where the
// toolkit does so sixty times a second: a key waited for 8 ms in the middle, more
// than it takes from there to the instrument. The toolkit must have been started by
// a window made before.
//
// A goroutine waits until something can be read from the connection to the screen,
// which takes no time while nothing comes, and has the toolkit's own goroutine read
// it as that does itself at each of its ticks, between what else it does. So events
// keep their order, and none is taken in while a frame is drawn or another event
// answered.
func promptEvents() {
	display := (*C.Display)(unsafe.Pointer(glfw.GetX11Display()))
	if display == nil {
		return
	}
	// One of its own, for the toolkit closes the other, whose number may then be
	// that of a file.
	fd, err := syscall.Dup(int(C.XConnectionNumber(display)))
	if err != nil {
		return
	}
	syscall.CloseOnExec(fd)
	f := os.NewFile(uintptr(fd), "screen")
	conn, err := f.SyscallConn()
	if err != nil {
		f.Close()
		return
	}
	go func() {
		defer f.Close()
		for arrived(conn) {
			fyne.DoAndWait(takeEvents)
		}
	}()
}

// arrived waits until there is something to read, and leaves it there. It reports
// false when the connection has ended, or cannot be waited for.
func arrived(conn syscall.RawConn) bool {
	more := false
	err := conn.Read(func(fd uintptr) (done bool) {
		var first [1]byte
		n, _, err := syscall.Recvfrom(int(fd), first[:], syscall.MSG_PEEK|syscall.MSG_DONTWAIT)
		more = n > 0
		return err != syscall.EAGAIN && err != syscall.EINTR
	})
	return err == nil && more
}

// takeEvents takes in what has come. At the end of the program the toolkit, which
// has let go of the screen then, does what it is asked for where it was asked; on
// its own goroutine it is the first thread of the process.
func takeEvents() {
	if syscall.Gettid() == os.Getpid() {
		glfw.PollEvents()
	}
}
