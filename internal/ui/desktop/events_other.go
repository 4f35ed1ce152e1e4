//go:build !linux || android || wayland

package desktop

// promptEvents leaves it to the toolkit to take events in at its own ticks.
func promptEvents() {}
