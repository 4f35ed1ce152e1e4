package player

import (
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// Playing by hand: keys, blocks and stops that do not come from the score.

// KeyDown presses a key until KeyUp. Keys outside 0 to 127 are ignored.
func (p *Player) KeyDown(d arrange.Division, key int) {
	p.source.strike()
	p.key(synth.KeyDown, d, key)
}

// KeyUp releases a key.
func (p *Player) KeyUp(d arrange.Division, key int) { p.key(synth.KeyUp, d, key) }

func (p *Player) key(k synth.Kind, d arrange.Division, key int) {
	if key < 0 || key > 127 {
		return
	}
	p.events(synth.Event{Kind: k, Division: synth.Division(d), Key: uint8(key)})
}

// Audition sounds keys together for a time, or until Release when the length
// is 0. It takes the place of the audition before. A registration is set
// first unless the score is playing; nil leaves the stops as they are.
func (p *Player) Audition(keys []Key, r *project.Registration, length time.Duration) {
	c := command{action: doAudition, frames: forever}
	if length > 0 {
		c.frames = max(1, toFrames(length.Seconds(), p.rate))
	}
	for _, k := range keys {
		if k.Key >= 0 && k.Key <= 127 && c.count < maxAudition {
			c.keys[c.count] = k
			c.count++
		}
	}
	if r != nil {
		c.events = setting(r)
		c.settings = len(c.events)
	}
	p.transport.queue.send(c)
}

// Release ends the audition.
func (p *Player) Release() { p.transport.queue.send(command{action: doRelease}) }

// SetRegistration sets drawbars, rotary speaker and swell. While playing, the
// score's next change replaces it.
func (p *Player) SetRegistration(r *project.Registration) {
	all := setting(r)
	p.events(all[:]...)
}

// SetRotary sets the speed of the speaker.
func (p *Player) SetRotary(r project.Rotary) {
	p.events(synth.Event{Kind: synth.SetRotary, Rotary: synth.Speed(r)})
}

// SetSwell moves the expression pedal, 0 to 1.
func (p *Player) SetSwell(v float64) {
	p.events(synth.Event{Kind: synth.SetSwell, Value: float32(v)})
}

// SetMaster sets the level, 0 to 1.
func (p *Player) SetMaster(v float64) {
	p.events(synth.Event{Kind: synth.SetMaster, Value: float32(v)})
}

// SetClick sets the level of the contact click, 0 to 1.
func (p *Player) SetClick(v float64) {
	p.events(synth.Event{Kind: synth.SetClick, Value: float32(v)})
}

// SetMetronomeLevel sets how loud the clicks are, 0 to 2; 1 is the usual level.
func (p *Player) SetMetronomeLevel(v float64) {
	p.events(synth.Event{Kind: synth.SetTick, Value: float32(v)})
}

// Tick sounds one click of the metronome, as for a tempo that is tapped.
func (p *Player) Tick(accent bool) {
	c := tick{}
	if accent {
		c.weight = 1
	}
	p.events(click(c, 0))
}

// events carries out some events at once, at most as many as a registration
// needs.
func (p *Player) events(list ...synth.Event) {
	c := command{action: doEvents}
	c.count = copy(c.events[:], list)
	p.transport.queue.send(c)
}
