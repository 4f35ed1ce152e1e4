// Package device is the midi.System of a real machine, on gomidi's driver. It
// is a package of its own because the driver is written in C++: whoever does
// not import it builds without a C++ compiler.
package device

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"gitlab.com/gomidi/midi/v2/drivers/rtmididrv/imported/rtmidi"

	"organbook/internal/player/midi"
)

// This is the only file that touches MIDI devices. It works on the inner
// package of the driver, so that ports are opened through the handle that named
// them: one that is plugged in between the two cannot be taken for another.
//
// An input cannot be closed while messages may come. The driver's way to close
// takes the receiver away before it stops the thread that calls it, and its way
// to destroy frees what the thread uses before it stops it; either ends the
// program if a message comes in that moment. So an input that is closed is only
// no longer listened to, and its handle is destroyed once its port has been gone
// for a while; see graveyard.

// System finds the ports of this machine. The zero value is ready; one
// goroutine may use it at a time.
type System struct {
	in        rtmidi.MIDIIn // kept to list ports with
	out       rtmidi.MIDIOut
	ins, outs watch
	graves    graveyard
}

var _ midi.System = (*System)(nil)

// Ports lists the ports; see midi.System.
func (s *System) Ports() (inputs, outputs []string, err error) {
	if err := s.connect(); err != nil {
		return nil, nil, err
	}
	in, err := ports(s.in)
	if err != nil {
		return nil, nil, fmt.Errorf("the MIDI inputs cannot be listed: %w", err)
	}
	out, err := ports(s.out)
	if err != nil {
		return nil, nil, fmt.Errorf("the MIDI outputs cannot be listed: %w", err)
	}
	s.graves.visit(in)
	return s.ins.names(in), s.outs.names(out), nil
}

// ownPort begins the names of the ports that the program makes itself.
const ownPort = "Organbook "

var errNoClient = errors.New("no MIDI ports: the system's MIDI service does not answer")

// connect makes the handles that ports are listed with.
func (s *System) connect() error {
	if s.in != nil && s.out != nil {
		return nil
	}
	err := available()
	if err != nil {
		return err
	}
	if s.in == nil {
		if s.in, err = rtmidi.NewMIDIInDefault(); err != nil {
			s.in = nil
			return errNoClient
		}
	}
	if s.out == nil {
		if s.out, err = rtmidi.NewMIDIOutDefault(); err != nil {
			s.out = nil
			return errNoClient
		}
	}
	return nil
}

// ports lists the ports of a handle without the program's own, which would
// bring back to it what it sends.
func ports(handle rtmidi.MIDI) ([]port, error) {
	n, err := handle.PortCount()
	if err != nil {
		return nil, err
	}
	list := make([]port, 0, n)
	for i := range n {
		name, err := handle.PortName(i)
		if err != nil {
			return nil, err
		}
		if !strings.Contains(name, ownPort) {
			list = append(list, port{number: i, raw: name, made: made(name)})
		}
	}
	return steady(list), nil
}

// find opens the port of a name through a handle that is not open yet.
func find(handle rtmidi.MIDI, name, label string) (port, error) {
	list, err := ports(handle)
	if err != nil {
		return port{}, err
	}
	for _, p := range list {
		if p.name == name {
			return p, handle.OpenPort(p.number, label)
		}
	}
	return port{}, errors.New("it is not plugged in any more")
}

// input is an open input.
type input struct {
	system *System
	handle rtmidi.MIDIIn
	port   port
	ear    ear
}

// OpenInput listens to a port; see midi.System.
func (s *System) OpenInput(name string, receive func([]byte)) (io.Closer, error) {
	handle, err := rtmidi.NewMIDIInDefault()
	if err != nil {
		return nil, errNoClient
	}
	i := &input{system: s, handle: handle, ear: ear{receive: receive}}
	// Set before the port is open: no message comes while it is set.
	err = handle.SetCallback(func(_ rtmidi.MIDIIn, message []byte, _ float64) { i.ear.hear(message) })
	if err == nil {
		i.port, err = find(handle, name, ownPort+"in")
	}
	if err != nil {
		handle.Destroy() // it was never open
		return nil, err
	}
	s.ins.opened(i.port)
	return i, nil
}

// Close stops listening; what is left of the input goes once its port has.
func (i *input) Close() error {
	i.ear.close()
	i.system.graves.bury(i.port, i.handle.Destroy)
	return nil
}

// output is an open output.
type output struct{ handle rtmidi.MIDIOut }

// OpenOutput opens a port to send to.
func (s *System) OpenOutput(name string) (midi.Output, error) {
	handle, err := rtmidi.NewMIDIOutDefault()
	if err != nil {
		return nil, errNoClient
	}
	p, err := find(handle, name, ownPort+"out")
	if err != nil {
		handle.Destroy()
		return nil, err
	}
	s.outs.opened(p)
	return output{handle}, nil
}

// Send sends one message at once.
func (o output) Send(message []byte) error { return o.handle.SendMessage(message) }

// Close frees the port.
func (o output) Close() error {
	o.handle.Destroy()
	return nil
}
