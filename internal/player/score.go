package player

import (
	"cmp"
	"math"
	"slices"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// score is a performance in the terms of the instrument: events at frames.
// It is not changed once made.
type score struct {
	events []note
	ticks  []tick
	frames int64 // to the end of the last bar
}

// note is an event with the layer it belongs to. The first event of a
// registration carries it, for organs outside.
type note struct {
	synth.Event
	layer        arrange.Layer
	registration *project.Registration
}

// tick is one click of the metronome.
type tick struct {
	frame int64
	// weight is 1 on the first beat of a bar, groupWeight on that of another group of
	// beats, else 0.
	weight float32
}

// newScore translates a performance at a sample rate. A nil performance gives
// an empty score.
func newScore(p *perform.Performance, rate int) *score {
	s := &score{}
	if p == nil {
		return s
	}
	for i := range p.Events {
		s.add(&p.Events[i], rate)
	}
	slices.SortStableFunc(s.events, func(a, b note) int { return cmp.Compare(a.Frame, b.Frame) })
	s.ticks = ticks(p.Clicks(), rate)
	s.frames = toFrames(p.Duration, rate)
	return s
}

func (s *score) add(e *perform.Event, rate int) {
	n := note{Event: synth.Event{Frame: toFrames(e.Seconds, rate)}, layer: e.Layer}
	switch e.Kind {
	case perform.KeyDown, perform.KeyUp:
		n.Kind, n.Division, n.Key = synth.KeyDown, synth.Division(e.Division), uint8(e.Key&127)
		if e.Kind == perform.KeyUp {
			n.Kind = synth.KeyUp
		}
	case perform.SetRegistration:
		for i, ev := range stops(e.Registration) {
			ev.Frame = n.Frame
			s.events = append(s.events, note{Event: ev})
			if i == 0 {
				s.events[len(s.events)-1].registration = e.Registration
			}
		}
		return
	case perform.SetRotary:
		n.Kind, n.Rotary = synth.SetRotary, synth.Speed(e.Value)
	case perform.SetSwell:
		n.Kind, n.Value = synth.SetSwell, float32(e.Value)
	default:
		return
	}
	s.events = append(s.events, n)
}

// isKey reports whether the event belongs to a note, which a muted layer
// silences, rather than to the instrument's settings.
func (n *note) isKey() bool { return n.Kind == synth.KeyDown || n.Kind == synth.KeyUp }

// stops are the events that draw the stops of a registration, its effects
// included; the speaker and the swell are not among them.
func stops(r *project.Registration) [9]synth.Event {
	pedal := synth.Event{Kind: synth.SetDrawbars, Division: synth.Pedal}
	copy(pedal.Drawbars[:], r.Pedal[:])
	vibrato := func(d synth.Division) synth.Event {
		return synth.Event{Kind: synth.SetVibrato, Division: d, Vibrato: synth.Vibrato(r.Vibrato[d])}
	}
	return [9]synth.Event{
		{Kind: synth.SetDrawbars, Division: synth.Upper, Drawbars: synth.Drawbars(r.Upper)},
		{Kind: synth.SetDrawbars, Division: synth.Lower, Drawbars: synth.Drawbars(r.Lower)},
		pedal,
		vibrato(synth.Upper), vibrato(synth.Lower), vibrato(synth.Pedal),
		{Kind: synth.SetAccent, Accent: synth.Accent{
			Pitch: synth.AccentPitch(r.Accent.Pitch), Loud: r.Accent.Loud, Long: r.Accent.Long}},
		{Kind: synth.SetDrive, Value: float32(r.Drive)},
		{Kind: synth.SetRoom, Value: float32(r.Room)},
	}
}

// settings is how many events set everything a registration holds.
const settings = 11

// setting are those events.
func setting(r *project.Registration) (all [settings]synth.Event) {
	s := stops(r)
	n := copy(all[:], s[:])
	all[n] = synth.Event{Kind: synth.SetRotary, Rotary: synth.Speed(r.Rotary)}
	all[n+1] = synth.Event{Kind: synth.SetSwell, Value: float32(r.Swell)}
	return all
}

// groupWeight is the accent of a group of beats.
const groupWeight = 0.5

func ticks(clicks []perform.Click, rate int) []tick {
	list := make([]tick, len(clicks))
	for i, c := range clicks {
		list[i] = tick{frame: toFrames(c.Seconds, rate)}
		switch {
		case c.Accent:
			list[i].weight = 1
		case c.Group:
			list[i].weight = groupWeight
		}
	}
	return list
}

func toFrames(seconds float64, rate int) int64 { return int64(math.Round(seconds * float64(rate))) }

func toSeconds(frames int64, rate int) float64 { return float64(frames) / float64(rate) }
