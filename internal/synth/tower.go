package synth

// tower is the second stage of an Engine: the amplifier and the rotary speaker
// in their cabinet.
type tower struct {
	drive   driver
	speaker rotary
}

func (t *tower) init(from *Config) {
	t.drive.init()
	t.speaker.init(from.SampleRate, from.Rotary)
}

func (t *tower) reset(to *Config, smooth int) {
	t.drive.reset(smooth)
	t.drive.set(to.Drive)
	t.speaker.reset(to.Speed, &to.Rotary)
}

// render makes left and right of the sum of a strip, which is lost.
func (t *tower) render(s *strip) {
	n := s.frames
	if !t.drive.render(s.sum[:n], s.sounding) {
		clear(s.sum[:n])
	}
	t.speaker.render(s.sum[:n], s.left[:n], s.right[:n])
	if s.ends {
		t.speaker.bands.flush()
	}
}

func (t *tower) apply(ev *Event) {
	switch ev.Kind {
	case SetRotary:
		t.speaker.set(min(ev.Rotary, Fast))
	case SetDrive:
		t.drive.set(ev.Value)
	case SetMicDistance:
		t.speaker.place(within(ev.Value, minMicDistance, maxMicDistance), t.speaker.horn.wanted.angle)
	case SetMicAngle:
		t.speaker.place(t.speaker.horn.wanted.distance, within(ev.Value, -0.5, 0.5))
	case SetBrake:
		t.speaker.brake(within(ev.Value, -1, 1))
	}
}
