package midifile

import (
	"math"

	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/theory"

	"gitlab.com/gomidi/midi/v2/smf"
)

// conductor writes what holds for all divisions.
func conductor(c *project.Chart, p *perform.Performance) smf.Track {
	w := conducting{chart: c, tempos: p.Tempos, keys: barKeys(c)}
	if c.Title != "" {
		w.add(0, smf.MetaTrackSequenceName(c.Title))
	}
	if c.Composer != "" {
		w.add(0, smf.MetaText(c.Composer))
	}
	for _, b := range p.Played {
		w.bar(b)
	}
	return w.close(p.Length)
}

// conducting is the conductor track on its way, with what it said last.
type conducting struct {
	track
	chart  *project.Chart
	tempos []perform.Tempo
	keys   []theory.Key
	meter  project.Meter
	key    theory.Key
}

// bar writes what changes at a played bar.
func (w *conducting) bar(b perform.PlayedBar) {
	bar := &w.chart.Bars[b.Bar]
	if m := playedMeter(bar); m != w.meter {
		w.meter = m
		w.add(b.At, meterMessage(m))
	}
	if k := w.keys[b.Bar]; k != w.key {
		w.key = k
		w.add(b.At, keyMessage(k))
	}
	if len(w.tempos) > 0 && w.tempos[0].At == b.At {
		w.add(b.At, tempoMessage(w.tempos[0].Quarters))
		w.tempos = w.tempos[1:]
	}
	if bar.Section != "" {
		w.add(b.At, smf.MetaMarker(bar.Section))
	}
}

// barKeys returns the key in force in each written bar.
func barKeys(c *project.Chart) []theory.Key {
	keys := make([]theory.Key, len(c.Bars))
	current := c.Key
	for i, b := range c.Bars {
		if b.Key.IsValid() {
			current = b.Key
		}
		keys[i] = current
	}
	return keys
}

// playedMeter returns the meter that makes the bar lines of a sequencer fall
// where the bar really ends: a MIDI file knows no pickups. Lengths no meter
// can express keep the written one.
func playedMeter(b *project.Bar) project.Meter {
	if b.Length == b.Meter.Length() {
		return b.Meter
	}
	for unit := b.Meter.Unit; unit <= 64; unit *= 2 {
		beat := project.Meter{Beats: 1, Unit: unit}.Beat()
		if n := b.Length / beat; b.Length%beat == 0 && n <= 64 {
			return project.Meter{Beats: int(n), Unit: unit}
		}
	}
	return b.Meter
}

func meterMessage(m project.Meter) smf.Message {
	clocks := max(1, m.Pulse()*24/project.Quarter) // 24 MIDI clocks a quarter
	return smf.MetaTimeSig(uint8(m.Beats), uint8(m.Unit), uint8(min(clocks, 255)), 8)
}

// keyMessage writes a signature; keys beyond seven accidentals are written as
// their enharmonic equals.
func keyMessage(k theory.Key) smf.Message {
	fifths := k.Fifths()
	for fifths > 7 {
		fifths -= 12
	}
	for fifths < -7 {
		fifths += 12
	}
	n := uint8(max(fifths, -fifths))
	return smf.MetaKey(0, k.Mode() == theory.Major, n, fifths < 0)
}

// tempoMessage writes a tempo; the file counts whole microseconds a quarter,
// in three bytes.
func tempoMessage(quarters float64) smf.Message {
	const slowest = 60e6 / (1<<24 - 1)
	return smf.MetaTempo(math.Max(quarters, slowest))
}
