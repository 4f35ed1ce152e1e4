package midi

import "io"

// System is what finds and opens the ports of a machine. Only one goroutine
// calls it at a time. Every method may take long.
type System interface {
	// Ports returns the names of the ports there are now, in a steady order.
	// Each name is given once and is the same after a port was unplugged and
	// plugged in again, as far as the system can tell. An error is a sentence
	// that says why there can be none.
	Ports() (inputs, outputs []string, err error)
	// OpenInput listens to a port until it is closed. receive is called for
	// each message, one at a time, with bytes that are valid during the call;
	// once Close has returned it is not called any more.
	OpenInput(name string, receive func(message []byte)) (io.Closer, error)
	// OpenOutput opens a port to send to.
	OpenOutput(name string) (Output, error)
}

// Output is an open port to send to. One goroutine uses it at a time.
type Output interface {
	// Send sends one message.
	Send(message []byte) error
	Close() error
}

// Nowhere is a system without ports, for a reason.
type Nowhere struct{ Err error }

// Ports returns the reason.
func (n Nowhere) Ports() (inputs, outputs []string, err error) { return nil, nil, n.Err }

// OpenInput fails.
func (n Nowhere) OpenInput(string, func([]byte)) (io.Closer, error) { return nil, n.Err }

// OpenOutput fails.
func (n Nowhere) OpenOutput(string) (Output, error) { return nil, n.Err }
