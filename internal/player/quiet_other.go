//go:build !linux || android || !cgo

package player

// quietDevices has nothing to do where opening a device prints nothing.
func quietDevices() {}

// quietServers has nothing to do either.
func quietServers() {}

// severalConnections says that the library holds one connection at a time: its
// driver keeps it in a variable.
const severalConnections = false

// deviceOpens says yes where only a connection itself can tell.
func deviceOpens() bool { return true }
