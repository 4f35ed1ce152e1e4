package midi

import (
	"fmt"
	"slices"
)

// State is what a page shows of the ports.
type State struct {
	// Looked reports that the ports have been looked for.
	Looked bool
	// Err is a sentence that says why there are no ports at all, "" otherwise.
	Err string
	// Inputs and Outputs are the ports there are, and those that are chosen
	// but not there.
	Inputs, Outputs []PortState
}

// PortState is one port.
type PortState struct {
	Name string
	// There reports that the port is plugged in, Open that it is used.
	There, Open bool
	// Err says why it is not, though it should be.
	Err string

	in  *input
	out *sender
}

// Count returns how many messages have come or gone.
func (p *PortState) Count() uint64 {
	switch {
	case p.in != nil:
		return p.in.count.Load()
	case p.out != nil:
		return p.out.count.Load()
	}
	return 0
}

// Latest returns the last message that came in, in words; "" before the first.
func (p *PortState) Latest() string {
	if p.in == nil || p.in.count.Load() == 0 {
		return ""
	}
	return unpack(p.in.latest.Load()).String()
}

// String tells a message in words: "channel 1, key 60".
func (m Message) String() string {
	channel := fmt.Sprintf("channel %d, ", m.Channel+1)
	switch m.Status {
	case NoteOn, NoteOff:
		return fmt.Sprintf("%skey %d", channel, m.A)
	case Program:
		return fmt.Sprintf("%sprogram %d", channel, m.A+1)
	case Change:
		return fmt.Sprintf("%sCC %d at %d", channel, m.A, m.B)
	}
	return channel + "another message"
}

func (m Message) pack() uint32 {
	return uint32(m.Status)<<24 | uint32(m.Channel)<<16 | uint32(m.A)<<8 | uint32(m.B)
}

func unpack(v uint32) Message {
	return Message{byte(v >> 24), byte(v >> 16), byte(v >> 8), byte(v)}
}

// State returns how the ports stand.
func (h *Hub) State() State {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.state
}

// publish makes the state of this look known, and tells of it if it differs.
func (h *Hub) publish(setup Setup, ins, outs []string, err error) {
	s := State{Looked: true}
	if err != nil {
		s.Err = err.Error()
	}
	for _, name := range ins {
		p := PortState{Name: name, There: true, Err: h.fault("in " + name)}
		if in := h.inputs[name]; in != nil {
			p.Open, p.in = true, in
		}
		s.Inputs = append(s.Inputs, p)
	}
	for _, name := range outs {
		p := PortState{Name: name, There: true, Err: h.fault("out " + name)}
		if out := h.outputs[name]; out != nil {
			p.Open, p.out = true, out
		}
		s.Outputs = append(s.Outputs, p)
	}
	for name := range wantedOutputs(setup) {
		if !has(outs, name) {
			s.Outputs = append(s.Outputs, PortState{Name: name, Err: "not plugged in"})
		}
	}
	slices.SortStableFunc(s.Outputs[len(outs):], func(a, b PortState) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	h.mu.Lock()
	changed := s.Err != h.state.Err || s.Looked != h.state.Looked || !slices.Equal(s.Inputs, h.state.Inputs) || !slices.Equal(s.Outputs, h.state.Outputs)
	h.state = s
	h.mu.Unlock()
	if changed {
		h.note(Event{Kind: PortsChanged})
	}
}
