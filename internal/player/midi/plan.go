package midi

import (
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// plan is a setup as the driver's threads read it: what is wanted at a glance.
// It is never changed once it is stored.
type plan struct {
	setup    Setup
	controls [endOfSources][17][128]Control // by source, channel, 0 for any, and number
	routes   [3]route
	senders  map[string]*sender
}

// route is where a division is sent; sender is nil where it is not.
type route struct {
	sender  *sender
	channel byte // 0 to 15
}

// release lets go of every key of the route's channel.
func (r route) release() {
	if r.sender != nil {
		r.sender.put(outMessage{release: true, channel: r.channel})
	}
}

func newPlan(s Setup, senders map[string]*sender) *plan {
	p := &plan{setup: s, senders: senders}
	for _, b := range s.Controls {
		p.controls[b.Controller.Source][b.Controller.Channel][b.Controller.Number] = b.Control
	}
	for d, o := range s.Outputs {
		if to := senders[o.Port]; o.Port != "" && to != nil {
			p.routes[d] = route{to, o.Channel - 1}
		}
	}
	return p
}

// control returns what a message works, on a channel of 0 to 15.
func (p *plan) control(from Source, channel, number byte) Control {
	if c := p.controls[from][channel+1][number]; c != NoControl {
		return c
	}
	return p.controls[from][0][number]
}

// draw lets the organ of a route call up the program of a registration, if it
// has one; a changed registration keeps that of what it was.
func (p *plan) draw(to route, name string) {
	if n := p.setup.Programs[strings.TrimSuffix(name, project.ChangedMark)]; to.sender != nil && n > 0 {
		to.sender.put(outMessage{m: Message{Program, to.channel, n - 1, 0}})
	}
}

// target returns what a key on a channel of a port plays, and as which key.
func (p *plan) target(port string, channel byte, key int) (d arrange.Division, as int, ok bool) {
	r := p.setup.Rule(port)
	t := r.All
	if t == Nothing {
		t = p.setup.Channels[channel]
	}
	if key < int(r.Split) {
		t = r.Below
	}
	as = key + 12*r.Octaves
	d, ok = t.Division()
	return d, as, ok && as >= 0 && as <= 127
}
