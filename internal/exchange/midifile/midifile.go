// Package midifile writes a realisation as a Standard MIDI File.
//
// The file is of format 1 with 10080 ticks a quarter note, so every position
// is exact. The first track conducts: title, tempo, meter, key and section
// marks. A named track follows for each division, on channels 1 to 3. Repeats
// are played out and swing is in the note positions, as in perform.
package midifile

import (
	"fmt"
	"io"
	"math"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"

	"gitlab.com/gomidi/midi/v2"
	"gitlab.com/gomidi/midi/v2/smf"
)

const (
	// velocity is the same for every note: organ keys do not feel a touch.
	velocity = 96
	// drawbarOrgan is program 17 of the General MIDI list, counted from 0.
	drawbarOrgan = 16
	// expression is the controller for the swell.
	expression = 11
	// closedSwell is the controller value of a closed swell, which on an
	// organ is soft but not silent; an open one is 127.
	closedSwell = 32
)

// divisions lists the tracks in order, with their names.
var divisions = []struct {
	division arrange.Division
	name     string
}{
	{arrange.Upper, "Upper"},
	{arrange.Lower, "Lower"},
	{arrange.Pedal, "Pedal"},
}

// Write performs the realisation and writes it to w.
func Write(w io.Writer, r *arrange.Realisation) error {
	p, err := perform.Perform(r, perform.Options{})
	if err != nil {
		return err
	}
	return WritePerformance(w, r.Chart, p)
}

// WritePerformance writes a performance of the chart, which may be a part of
// it or at another tempo.
func WritePerformance(w io.Writer, c *project.Chart, p *perform.Performance) error {
	file := smf.NewSMF1()
	file.TimeFormat = smf.MetricTicks(project.Quarter)
	file.NoRunningStatus = true
	if err := file.Add(conductor(c, p)); err != nil {
		return fmt.Errorf("midi file: %w", err)
	}
	for channel, d := range divisions {
		if err := file.Add(division(p, d.division, d.name, uint8(channel))); err != nil {
			return fmt.Errorf("midi file: %w", err)
		}
	}
	_, err := file.WriteTo(w)
	return err
}

// track gathers messages at ascending absolute positions.
type track struct {
	events smf.Track
	at     project.Ticks
}

func (t *track) add(at project.Ticks, message []byte) {
	t.skip(at)
	t.events.Add(uint32(at-t.at), message)
	t.at = at
}

// skip bridges silence too long for one delta time, which has 28 bits, with
// empty texts.
func (t *track) skip(to project.Ticks) {
	const longest = 1<<28 - 1
	for ; to-t.at > longest; t.at += longest {
		t.events.Add(longest, smf.MetaText(""))
	}
}

// close ends the track at the end of the performance.
func (t *track) close(end project.Ticks) smf.Track {
	t.skip(end)
	t.events.Close(uint32(end - t.at))
	return t.events
}

// division writes the keys, and the swell, of one division.
func division(p *perform.Performance, d arrange.Division, name string, channel uint8) smf.Track {
	var t track
	t.add(0, smf.MetaTrackSequenceName(name))
	t.add(0, midi.ProgramChange(channel, drawbarOrgan))
	for _, e := range p.Events {
		switch {
		case e.Kind == perform.SetSwell:
			t.add(e.At, midi.ControlChange(channel, expression, swellValue(e.Value)))
		case e.Division != d:
		case e.Kind == perform.KeyDown:
			t.add(e.At, midi.NoteOn(channel, uint8(e.Key), velocity))
		case e.Kind == perform.KeyUp:
			t.add(e.At, midi.NoteOff(channel, uint8(e.Key)))
		}
	}
	return t.close(p.Length)
}

// swellValue returns the expression controller for a swell from 0 to 1.
func swellValue(swell float64) uint8 {
	swell = max(0, min(swell, 1))
	return uint8(math.Round(closedSwell + swell*(127-closedSwell)))
}
