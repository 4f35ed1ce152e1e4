package midi

import (
	"sync/atomic"

	"organbook/internal/player/ring"
)

// sender brings messages to one output port, on a goroutine of its own: a
// driver that does not return holds up nobody else. It counts which keys are
// down outside, so that two hands on one key release it once, and lets go of
// them at the end. What it cannot let go of, since the port has failed or is
// gone, it owes.
type sender struct {
	port    Output
	owes    *debts
	queue   *ring.Ring[outMessage]
	wake    chan struct{}
	stop    chan struct{}
	done    chan struct{} // closed when everything is released and the port let go of
	ended   atomic.Bool
	gone    atomic.Bool // the port was pulled out
	lost    atomic.Bool
	fault   atomic.Pointer[string]
	count   atomic.Uint64
	held    [16][128]uint8
	pressed [16][128]bool // since the port was opened
	drawn   [16]uint8     // the program of each channel, plus one
}

// outMessage is a message to send, or the request to release a channel or to
// pay what is owed.
type outMessage struct {
	m       Message
	channel byte
	release bool
	pay     bool
}

// sendRoom is how much may wait for a slow port.
const sendRoom = 1024

func newSender(port Output, owes *debts) *sender {
	s := &sender{port: port, owes: owes, queue: ring.New[outMessage](sendRoom),
		wake: make(chan struct{}, 1), stop: make(chan struct{}), done: make(chan struct{})}
	go s.run()
	return s
}

// put hands a message over; it never waits. What finds no room is lost, and
// then everything is released.
func (s *sender) put(m outMessage) {
	if !s.queue.Put(m) {
		s.lost.Store(true)
	}
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// end releases everything and closes the port, beside the caller.
func (s *sender) end() {
	if !s.ended.Swap(true) {
		close(s.stop)
	}
}

// broken says why the port does not take messages any more, "" while it does.
func (s *sender) broken() string {
	if why := s.fault.Load(); why != nil {
		return *why
	}
	return ""
}

func (s *sender) run() {
	defer close(s.done)
	s.pay()
	for {
		select {
		case <-s.stop:
			s.drain()
			s.releaseAll()
			if s.gone.Load() || s.broken() != "" {
				s.owes.add(&s.pressed)
			}
			s.port.Close()
			return
		case <-s.wake:
			s.drain()
		}
	}
}

func (s *sender) drain() {
	for o, ok := s.queue.Take(); ok; o, ok = s.queue.Take() {
		switch {
		case o.pay:
			s.pay()
		case o.release:
			s.release(o.channel)
		default:
			s.pass(o.m)
		}
	}
	if s.lost.Swap(false) {
		s.releaseAll()
	}
}

// pass sends a message unless the key is already as it says.
func (s *sender) pass(m Message) {
	if m.Status == Program {
		if s.drawn[m.Channel] == m.A+1 {
			return
		}
		s.drawn[m.Channel] = m.A + 1
	}
	held := &s.held[m.Channel][m.A]
	switch m.Status {
	case NoteOn:
		if *held++; *held > 1 {
			return
		}
		s.pressed[m.Channel][m.A] = true
	case NoteOff:
		if *held == 0 {
			return
		}
		if *held--; *held > 0 {
			return
		}
	}
	s.send(m)
}

func (s *sender) send(m Message) {
	var b [3]byte
	if err := s.port.Send(m.write(&b)); err != nil {
		why := err.Error()
		s.fault.CompareAndSwap(nil, &why)
		return
	}
	s.count.Add(1)
}

// release lifts the keys of a channel, one by one for organs that know no
// other way, and says so to the others.
func (s *sender) release(channel byte) {
	for key := range s.held[channel] {
		if s.held[channel][key] > 0 {
			s.held[channel][key] = 0
			s.send(Message{NoteOff, channel, byte(key), 64})
		}
	}
	s.send(Message{Change, channel, allNotesOff, 0})
}

// pay lifts the keys that are owed, but for those that are held again.
func (s *sender) pay() {
	owed, any := s.owes.take()
	if !any {
		return
	}
	for channel := range owed {
		for key, o := range owed[channel] {
			if o && s.held[channel][key] == 0 {
				s.pressed[channel][key] = true // should the port fail meanwhile
				s.send(Message{NoteOff, byte(channel), byte(key), 64})
			}
		}
	}
}

// clear silences every channel: what the organ holds since the port failed is
// not known.
func (s *sender) clear() {
	for channel := range s.held {
		s.put(outMessage{release: true, channel: byte(channel)})
	}
}

func (s *sender) releaseAll() {
	for channel := range s.held {
		for _, n := range s.held[channel] {
			if n > 0 {
				s.release(byte(channel))
				break
			}
		}
	}
}
