package midi

import "organbook/internal/player"

// wantedOutputs are the ports that some division is sent to.
func wantedOutputs(setup Setup) map[string]bool {
	wanted := map[string]bool{}
	for _, o := range setup.Outputs {
		if o.Port != "" {
			wanted[o.Port] = true
		}
	}
	return wanted
}

func (h *Hub) dropOutputs(setup Setup, there []string) (dropped []*sender) {
	wanted := wantedOutputs(setup)
	for name, s := range h.outputs {
		if !has(there, name) || !wanted[name] || s.broken() != "" {
			s.gone.Store(!has(there, name))
			if why := s.broken(); why != "" && has(there, name) {
				h.fail("out "+name, why)
			}
			dropped = append(dropped, s)
			delete(h.outputs, name)
		}
	}
	h.forget(there, "out ")
	return dropped
}

func (h *Hub) openOutputs(setup Setup, there []string) {
	for name := range wantedOutputs(setup) {
		if h.outputs[name] != nil || !has(there, name) || h.waits("out "+name) {
			continue
		}
		port, err := h.system.OpenOutput(name)
		if err != nil {
			h.fail("out "+name, err.Error())
			continue
		}
		h.outputs[name] = newSender(port, h.owes(name))
		if h.mended("out " + name) {
			h.outputs[name].clear()
		}
	}
}

// owes returns what is owed at a port.
func (h *Hub) owes(name string) *debts {
	if h.owed[name] == nil {
		h.owed[name] = &debts{}
	}
	return h.owed[name]
}

// collect has the ports pay what a sender before them, one that the driver held
// up, came to owe after they were opened.
func (h *Hub) collect() {
	for name, s := range h.outputs {
		if h.owes(name).owed() {
			s.put(outMessage{pay: true})
		}
	}
}

// place tells everybody where each division sounds now: outside only while its
// port is open.
func (h *Hub) place(setup Setup) {
	senders := map[string]*sender{}
	for name, s := range h.outputs {
		senders[name] = s
	}
	next := newPlan(h.Setup(), senders)
	h.take(next)
	var places [3]player.Place
	for d := range places {
		switch {
		case next.routes[d].sender == nil:
		case setup.Outputs[d].Alone:
			places[d] = player.Away
		default:
			places[d] = player.Both
		}
	}
	if places != h.placed {
		h.placed = places
		h.instrument.SetPlaces(places)
	}
}
