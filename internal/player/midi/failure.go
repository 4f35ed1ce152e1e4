package midi

import "time"

// failure is what keeps a port that is there from being used. It is tried again
// after a while, and then less and less often: another program may have let go
// of it.
type failure struct {
	why   string
	since int       // how often it failed in a row
	again time.Time // when it is tried next
}

// The first and the longest wait before a port is tried again.
const firstRetry, lastRetry = 500 * time.Millisecond, 30 * time.Second

// fail notes that a port failed.
func (h *Hub) fail(port, why string) {
	f := h.failed[port]
	if f == nil {
		f = &failure{}
		h.failed[port] = f
	}
	f.why = why
	f.again = time.Now().Add(min(firstRetry<<min(f.since, 10), lastRetry))
	f.since++
}

// waits reports whether a port failed lately and is not to be tried yet.
func (h *Hub) waits(port string) bool {
	f := h.failed[port]
	return f != nil && time.Now().Before(f.again)
}

// mended notes that a port opened, and reports whether it had failed before. How
// often is kept: one that opens and fails at the first message must not be
// tried all the time.
func (h *Hub) mended(port string) (failed bool) {
	f := h.failed[port]
	if f != nil {
		f.why = ""
	}
	return f != nil
}

// fault says why a port is not used, "" if nothing is wrong with it.
func (h *Hub) fault(port string) string {
	if f := h.failed[port]; f != nil {
		return f.why
	}
	return ""
}
