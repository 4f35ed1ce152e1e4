package synth

// hall is the last stage of an Engine: the room around the speaker, the level,
// the metronome and the limiter.
type hall struct {
	room   room
	master ramp
	tick   ticker
	limit  limiter
}

func (h *hall) init(from *Config) {
	h.room.init(from.SampleRate)
	h.tick.init(from.SampleRate)
	h.limit.init(from.SampleRate)
}

func (h *hall) reset(to *Config, smooth int) {
	h.room.reset(to.Room, smooth)
	h.master.reset(clamp01(to.Master), smooth)
	h.tick.reset()
	h.limit.reset()
}

// render interleaves what is heard of the left and right of a strip, which are
// lost, at the beginning of out.
func (h *hall) render(s *strip, out []float32) {
	left, right := s.left[:s.frames], s.right[:s.frames]
	h.room.render(left, right)
	h.master.applyStereo(left, right)
	h.tick.add(left, right)
	h.limit.render(left, right, out[:2*s.frames])
	if s.ends {
		h.room.flush()
	}
}

func (h *hall) apply(ev *Event) {
	room := h.room.params
	switch ev.Kind {
	case SetMaster:
		h.master.to(clamp01(ev.Value))
	case SetRoom:
		h.room.level.to(roomGain(ev.Value))
	case SetTick:
		h.tick.level = float32(within(ev.Value, 0, maxTick))
	case Tick:
		h.tick.strike(within(ev.Value, 0, 1))
	case SetRoomSize:
		room.Size = within(ev.Value, minRoomSize, maxRoomSize)
	case SetRoomDecay:
		room.Decay = within(ev.Value, minRoomDecay, maxRoomDecay)
	case SetRoomDamping:
		room.Damping = within(ev.Value, 0, 1)
	}
	h.room.change(room)
}
