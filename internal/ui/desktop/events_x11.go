//go:build linux && !android && !wayland

package desktop

// #cgo LDFLAGS: -lX11
// #include <X11/Xlib.h>
import "C"

import (
	"os"
	"syscall"
	"time"
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
// answered. If they have frames held back, it stays there, so that none is begun.
func promptEvents(h *frameHold) {
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
	e, err := eventsFrom(fd)
	if err != nil {
		return
	}
	go func() {
		defer e.f.Close()
		for e.arrived() {
			fyne.DoAndWait(func() {
				if takeEvents() {
					e.stay(h, func() { takeEvents() })
				}
			})
		}
	}()
}

// events are what comes from the screen.
type events struct {
	f    *os.File
	conn syscall.RawConn
}

// eventsFrom returns those of a connection, which becomes theirs.
func eventsFrom(fd int) (events, error) {
	f := os.NewFile(uintptr(fd), "screen")
	conn, err := f.SyscallConn()
	if err != nil {
		f.Close()
	}
	return events{f, conn}, err
}

// arrived waits until there is something to read, and leaves it there. It reports
// false when the connection has ended, when it cannot be waited for, and after the
// deadline, if there is one.
func (e events) arrived() bool {
	more := false
	err := e.conn.Read(func(fd uintptr) (done bool) {
		var first [1]byte
		n, _, err := syscall.Recvfrom(int(fd), first[:], syscall.MSG_PEEK|syscall.MSG_DONTWAIT)
		more = n > 0
		return err != syscall.EAGAIN && err != syscall.EINTR
	})
	return err == nil && more
}

// stay takes in what else comes, until no frame is held back any more.
func (e events) stay(h *frameHold, take func()) {
	defer e.f.SetReadDeadline(time.Time{})
	for h.left(time.Now()) > 0 {
		if e.f.SetReadDeadline(h.until) != nil || !e.arrived() {
			return
		}
		take()
	}
}

// takeEvents takes in what has come, and reports whether it did. At the end of the
// program the toolkit, which has let go of the screen then, does what it is asked for
// where it was asked; on its own goroutine it is the first thread of the process.
func takeEvents() bool {
	ours := syscall.Gettid() == os.Getpid()
	if ours {
		glfw.PollEvents()
	}
	return ours
}
