//go:build !linux || android || wayland

package desktop

// promptEvents leaves it to the toolkit to take events in at its own ticks,
// which may come while frames are held back.
func promptEvents(*frameHold) {}
