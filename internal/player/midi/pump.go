package midi

import (
	"math"
	"time"

	"organbook/internal/player"
	"organbook/internal/project"
)

// pumpInterval is how exactly what the score plays is sent outside, and
// restInterval how soon a division that was given an organ is noticed.
const pumpInterval, restInterval = 2 * time.Millisecond, 100 * time.Millisecond

// strength is the velocity of keys that the score presses; an organ does not
// mind.
const strength = 100

// pump sends what the score plays to the organs outside as it comes to be
// heard.
func (h *Hub) pump() {
	t := time.NewTimer(0)
	defer t.Stop()
	var batch [64]player.Outside
	for {
		select {
		case <-h.closing:
			return
		case <-t.C:
		}
		p := h.plan.Load()
		wait := restInterval
		if p.sendsOut() {
			wait = pumpInterval
		}
		for n := h.instrument.TakeOutside(batch[:]); n > 0; n = h.instrument.TakeOutside(batch[:]) {
			for i := range batch[:n] {
				h.sendOn(p, &batch[i])
			}
		}
		t.Reset(wait)
	}
}

func (p *plan) sendsOut() bool {
	for _, to := range p.routes {
		if to.sender != nil {
			return true
		}
	}
	return false
}

func (h *Hub) sendOn(p *plan, o *player.Outside) {
	m := Message{}
	switch o.Kind {
	case player.OutsideDown:
		m = Message{Status: NoteOn, A: byte(o.Key), B: strength}
	case player.OutsideUp:
		m = Message{Status: NoteOff, A: byte(o.Key), B: 64}
	case player.OutsideSwell:
		m = Message{Status: Change, A: ExpressionPedal, B: byte(math.Round(127 * min(max(o.Value, 0), 1)))}
	case player.OutsideRelease:
		p.routes[o.Division].release()
		return
	case player.OutsideStops:
		p.draw(p.routes[o.Division], o.Registration.Name)
		return
	}
	h.sendOut(p, o.Division, m)
}

// Draw lets the organs outside call up the program of a registration, for what
// is played while the score does not play.
func (h *Hub) Draw(name string) {
	p := h.plan.Load()
	for _, to := range p.routes {
		p.draw(to, name)
	}
}

// TurnSpeaker sets the speed of the speaker, as a switch outside does.
func (h *Hub) TurnSpeaker(r project.Rotary) { h.instrument.LiveRotary(r) }
