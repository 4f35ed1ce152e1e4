// Package miditest is a midi.System in memory, for tests: ports that are
// plugged in and out, played and listened to by the test.
package miditest

import (
	"errors"
	"io"
	"slices"
	"sync"
	"time"

	"organbook/internal/player/midi"
)

// Desk is a system of virtual ports. The zero value has none.
type Desk struct {
	mu      sync.Mutex
	ins     []string
	outs    []string
	open    map[string][]*listener
	sent    map[string][][]byte
	refused map[string]bool
	stuck   chan struct{}
	slow    time.Duration
	looks   int
}

var _ midi.System = (*Desk)(nil)

// Plug adds ports by name; an input and an output may have the same.
func (d *Desk) Plug(input, output string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if input != "" {
		d.ins = append(d.ins, input)
	}
	if output != "" {
		d.outs = append(d.outs, output)
	}
}

// Unplug takes a port away, in both directions.
func (d *Desk) Unplug(name string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	not := func(s string) bool { return s == name }
	d.ins, d.outs = slices.DeleteFunc(d.ins, not), slices.DeleteFunc(d.outs, not)
}

// Refuse makes a port fail to open.
func (d *Desk) Refuse(name string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.refused == nil {
		d.refused = map[string]bool{}
	}
	d.refused[name] = true
}

// Allow lets a port open that was refused.
func (d *Desk) Allow(name string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	delete(d.refused, name)
}

// Hang makes every call to the driver wait until the returned function is
// called.
func (d *Desk) Hang() (free func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	stuck := make(chan struct{})
	d.stuck = stuck
	return sync.OnceFunc(func() { close(stuck) })
}

// Slow makes every call to the driver take a while.
func (d *Desk) Slow(each time.Duration) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.slow = each
}

// wait hangs while the desk does.
func (d *Desk) wait() {
	d.mu.Lock()
	stuck, slow := d.stuck, d.slow
	d.looks++
	d.mu.Unlock()
	time.Sleep(slow)
	if stuck != nil {
		<-stuck
	}
}

// Calls counts the calls to the driver.
func (d *Desk) Calls() int {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.looks
}

// Ports returns the ports that are plugged in.
func (d *Desk) Ports() (inputs, outputs []string, err error) {
	d.wait()
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.ins), slices.Clone(d.outs), nil
}

// listener is an open input.
type listener struct {
	mu      sync.Mutex
	receive func([]byte)
	closed  bool
}

// Close ends listening once the call that runs has returned.
func (l *listener) Close() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.closed = true
	return nil
}

func (l *listener) hear(b []byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !l.closed {
		l.receive(b)
	}
}

var errGone = errors.New("the port is gone")

// OpenInput listens to a port.
func (d *Desk) OpenInput(name string, receive func([]byte)) (io.Closer, error) {
	d.wait()
	d.mu.Lock()
	defer d.mu.Unlock()
	if !slices.Contains(d.ins, name) || d.refused[name] {
		return nil, errGone
	}
	if d.open == nil {
		d.open = map[string][]*listener{}
	}
	l := &listener{receive: receive}
	d.open[name] = append(d.open[name], l)
	return l, nil
}

// Play sends a message as a keyboard does. It reports whether anybody listens.
func (d *Desk) Play(name string, message ...byte) bool {
	d.mu.Lock()
	heard := false
	listeners := slices.Clone(d.open[name])
	there := slices.Contains(d.ins, name)
	d.mu.Unlock()
	for _, l := range listeners {
		if there {
			l.hear(message)
			l.mu.Lock()
			heard = heard || !l.closed
			l.mu.Unlock()
		}
	}
	return heard
}

// organ is an open output.
type organ struct {
	d    *Desk
	name string
}

// OpenOutput opens a port to send to.
func (d *Desk) OpenOutput(name string) (midi.Output, error) {
	d.wait()
	d.mu.Lock()
	defer d.mu.Unlock()
	if !slices.Contains(d.outs, name) || d.refused[name] {
		return nil, errGone
	}
	return &organ{d, name}, nil
}

// Send keeps a message for Sent.
func (o *organ) Send(message []byte) error {
	o.d.wait()
	o.d.mu.Lock()
	defer o.d.mu.Unlock()
	if !slices.Contains(o.d.outs, o.name) {
		return errGone
	}
	if o.d.sent == nil {
		o.d.sent = map[string][][]byte{}
	}
	o.d.sent[o.name] = append(o.d.sent[o.name], slices.Clone(message))
	return nil
}

// Close does nothing.
func (*organ) Close() error { return nil }

// Sent returns what an output has received so far.
func (d *Desk) Sent(name string) [][]byte {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.sent[name])
}

// patience is how long Until waits.
const patience = 10 * time.Second

// Until waits for something to come true and reports whether it did.
func Until(what func() bool) bool {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if what() {
			return true
		}
	}
	return what()
}
