package midifile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"

	"gitlab.com/gomidi/midi/v2/smf"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
)

const (
	// maxSize is the most of a file that is read.
	maxSize = 64 << 20
	// maxSeconds is the longest a file may play.
	maxSeconds = 4 * 3600
	// percussion is the channel that has no pitches, counted from 0.
	percussion = 9
)

// ErrNotMIDI says that a file is not a Standard MIDI File, or a damaged one.
var ErrNotMIDI = errors.New("this is not a Standard MIDI File, or it is damaged")

// Read reads a file as something to be played as it is, on a registration:
// channels 1, 2 and 3 are upper manual, lower manual and pedals, as Write
// writes them; all others but percussion play on the upper manual. Controller
// 11 is the swell. The result has no bars.
func Read(r io.Reader, with project.Registration) (p *perform.Performance, err error) {
	defer func() { // the library trusts what it reads
		if recover() != nil {
			p, err = nil, ErrNotMIDI
		}
	}()
	data, err := io.ReadAll(io.LimitReader(r, maxSize)) // the library cannot read in pieces
	if err != nil {
		return nil, err
	}
	file, err := smf.ReadFrom(bytes.NewReader(data))
	if err != nil {
		return nil, ErrNotMIDI
	}
	clock, err := newClock(file)
	if err != nil {
		return nil, err
	}
	p = &perform.Performance{Tone: project.DefaultTone()}
	p.Events = append(p.Events, perform.Event{Kind: perform.SetRegistration, Registration: &with},
		perform.Event{Kind: perform.SetRotary, Registration: &with, Value: float64(with.Rotary)},
		perform.Event{Kind: perform.SetSwell, Registration: &with, Value: with.Swell})
	for _, t := range file.Tracks {
		if err := readTrack(p, t, clock); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(p.Events, func(a, b perform.Event) int {
		switch {
		case a.Seconds < b.Seconds:
			return -1
		case a.Seconds > b.Seconds:
			return 1
		}
		return int(a.Kind) - int(b.Kind)
	})
	return p, nil
}

// readTrack adds the events of a track.
func readTrack(p *perform.Performance, t smf.Track, c *clock) error {
	var at int64
	for _, ev := range t {
		at += int64(ev.Delta)
		e := perform.Event{Seconds: c.seconds(at)}
		if e.Seconds > maxSeconds {
			return fmt.Errorf("the file plays for more than %d hours", maxSeconds/3600)
		}
		p.Duration = max(p.Duration, e.Seconds)
		if understand(&e, ev.Message) {
			p.Events = append(p.Events, e)
		}
	}
	return nil
}

// understand fills in what a message asks for, and reports whether it asks for
// anything that an organ does.
func understand(e *perform.Event, m smf.Message) bool {
	var channel, a, b uint8
	switch {
	case m.GetNoteOn(&channel, &a, &b) && channel != percussion:
		e.Kind = perform.KeyDown
		if b == 0 {
			e.Kind = perform.KeyUp
		}
	case m.GetNoteOff(&channel, &a, &b) && channel != percussion:
		e.Kind = perform.KeyUp
	case m.GetControlChange(&channel, &a, &b) && a == expression:
		e.Kind = perform.SetSwell
		e.Value = max(0, float64(int(b)-closedSwell)/(127-closedSwell))
		return true
	default:
		return false
	}
	e.Key, e.Layer = int(a), arrange.LayerLead
	if int(channel) < len(divisions) {
		e.Division = divisions[channel].division
	}
	return true
}

// clock tells the time of a position in ticks.
type clock struct {
	perTick float64 // seconds, for files in real time; 0 for metric ones
	quarter float64 // ticks
	tempos  []tempo
}

// tempo holds from a position on.
type tempo struct {
	at      int64
	seconds float64
	perTick float64
}

func newClock(file *smf.SMF) (*clock, error) {
	switch f := file.TimeFormat.(type) {
	case smf.MetricTicks:
		c := &clock{quarter: float64(f.Resolution())}
		c.readTempos(file.Tracks)
		return c, nil
	case smf.TimeCode:
		if f.FramesPerSecond == 0 || f.SubFrames == 0 {
			return nil, ErrNotMIDI
		}
		return &clock{perTick: 1 / (float64(f.FramesPerSecond) * float64(f.SubFrames))}, nil
	}
	return nil, ErrNotMIDI
}

// readTempos gathers the tempos of all tracks; 120 quarters a minute until the
// first.
func (c *clock) readTempos(tracks []smf.Track) {
	type change struct {
		at       int64
		quarters float64
	}
	changes := []change{{0, 120}}
	for _, t := range tracks {
		var at int64
		for _, ev := range t {
			at += int64(ev.Delta)
			var bpm float64
			if ev.Message.GetMetaTempo(&bpm) && bpm > 0 {
				changes = append(changes, change{at, bpm})
			}
		}
	}
	slices.SortStableFunc(changes, func(a, b change) int { return int(min(max(a.at-b.at, -1), 1)) })
	for _, ch := range changes {
		c.tempos = append(c.tempos, tempo{ch.at, c.seconds(ch.at), 60 / (ch.quarters * c.quarter)})
	}
}

func (c *clock) seconds(at int64) float64 {
	if c.perTick > 0 {
		return float64(at) * c.perTick
	}
	for i := len(c.tempos) - 1; i >= 0; i-- {
		if t := c.tempos[i]; t.at <= at {
			return t.seconds + float64(at-t.at)*t.perTick
		}
	}
	return 0
}
