package player

import (
	"organbook/internal/project"
	"organbook/internal/synth"
)

// configured returns the settings of an instrument with a tone. They are
// rounded as those of toneEvents are, so that both give the same sound to the
// bit.
func configured(c synth.Config, t project.Tone) synth.Config {
	single := func(v float64) float64 { return float64(float32(v)) }
	c.Click = float32(t.Click)
	c.Leakage, c.Partials = float32(t.Leakage), float32(t.Partials)
	c.Rotary.Mics = synth.Microphones{Distance: single(t.MicDistance), Angle: single(t.MicAngle / 360)}
	c.Rotary.Brake = single(t.StopAngle / 360)
	c.Room.Size, c.Room.Decay, c.Room.Damping = single(t.RoomSize), single(t.Decay), single(t.Damping)
	return c
}

// toneEvents make an instrument that plays sound as configured would, but for
// its partials.
func toneEvents(t project.Tone) []synth.Event {
	return []synth.Event{
		{Kind: synth.SetClick, Value: float32(t.Click)},
		{Kind: synth.SetLeakage, Value: float32(t.Leakage)},
		{Kind: synth.SetMicDistance, Value: float32(t.MicDistance)},
		{Kind: synth.SetMicAngle, Value: float32(t.MicAngle / 360)},
		{Kind: synth.SetBrake, Value: float32(t.StopAngle / 360)},
		{Kind: synth.SetRoomSize, Value: float32(t.RoomSize)},
		{Kind: synth.SetRoomDecay, Value: float32(t.Decay)},
		{Kind: synth.SetRoomDamping, Value: float32(t.Damping)},
	}
}

// SetTone makes the instrument as a chart asks for, also while it sounds.
// Other partials take a moment: their waves are computed first, beside the
// sound.
func (p *Player) SetTone(t project.Tone) {
	p.events(toneEvents(t)...)
	p.mu.Lock()
	defer p.mu.Unlock()
	if t.Partials == p.partials {
		return
	}
	p.partials = t.Partials
	go p.changeWheels(t.Partials)
}

// changeWheels gives the instrument other waves, unless others still have been
// asked for since.
func (p *Player) changeWheels(partials float64) {
	w := synth.NewWheels(p.rate, partials)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.partials == partials {
		p.events(synth.Event{Kind: synth.SetWheels, Wheels: w})
	}
}
