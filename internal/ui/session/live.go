package session

import (
	"organbook/internal/project"
)

// LiveDrawbar tells where a fader outside has put a drawbar. It sounds at once
// by other means; the chart takes it up with KeepDrawbars when the hand rests,
// so that a movement is undone as one.
func (s *Session) LiveDrawbar(place, value int) {
	if place < 0 || place >= Drawbars {
		return
	}
	if s.faders == nil {
		s.faders = map[int]int{}
	}
	s.faders[place] = min(max(value, 0), project.MaxDrawbar)
	s.notify(KeysChanged)
}

// HasFaders reports whether faders were moved that the chart does not know of.
func (s *Session) HasFaders() bool { return len(s.faders) > 0 }

// LiveSwell tells where a pedal outside stands, 0 to 1, and LiveRotary what a
// switch outside has set. They are played and not written: the chart keeps its
// own until it is played.
func (s *Session) LiveSwell(v float64) {
	s.hand.swell, s.hand.moved = v, true
	s.notify(KeysChanged)
}

// LiveRotary tells what a switch outside has set the speaker to.
func (s *Session) LiveRotary(r project.Rotary) {
	s.hand.rotary, s.hand.turned = r, true
	s.notify(KeysChanged)
}

// hand is where pedal and switch outside stand, if they were used.
type hand struct {
	swell         float64
	rotary        project.Rotary
	moved, turned bool
}

// LiveRegistration is the heard passage's registration as it is under the
// player's hands: with faders, pedal and switch where they were moved to.
func (s *Session) LiveRegistration() project.Registration {
	r := s.fadedRegistration()
	if s.hand.moved {
		r.Swell = s.hand.swell
	}
	if s.hand.turned {
		r.Rotary = s.hand.rotary
	}
	return r
}

// fadedRegistration is the heard passage's registration with the faders where
// they were moved to.
func (s *Session) fadedRegistration() project.Registration {
	r := s.Heard().Registration
	for place, value := range s.faders {
		*drawbarOf(&r, place) = uint8(value)
	}
	return s.renamed(r)
}

// ReadyStops draws the stops of the heard passage for keys that are played
// while the score does not play; it does so only when they differ from what it
// drew last.
func (s *Session) ReadyStops() {
	if r := s.LiveRegistration(); !s.transport.playing && (s.ready == nil || r != *s.ready) {
		s.ready = &r
		s.sound.Set(r)
	}
}

// KeepDrawbars writes where the faders are into the heard passage, as one
// edit. While a recording runs they wait for its end.
func (s *Session) KeepDrawbars() error {
	if len(s.faders) == 0 || s.record != nil {
		return nil
	}
	r, caret := s.fadedRegistration(), s.sel
	s.faders = nil
	if r == s.Heard().Registration {
		return nil
	}
	return s.doThen(project.SetRegistration{Passage: s.HeardPassage(), Registration: r}, func() { s.sel = caret })
}
