package project

import (
	"fmt"
	"slices"

	"organbook/internal/theory"
)

// TransposeChart moves the whole chart: keys, changes, melody and pins.
type TransposeChart struct{ By theory.Interval }

// Name returns "transpose".
func (TransposeChart) Name() string { return "transpose" }

// Apply fails when a note would leave the range of keys.
func (e TransposeChart) Apply(c *Chart) (*Chart, error) { return c.Transpose(e.By) }

// Transpose returns the chart moved by an interval. Where that leads to a key
// without a signature (eight sharps), the stretch in that key is written in
// the enharmonic one instead, notes and symbols included. It fails when a note
// or pinned voice would leave the range of keys.
func (c *Chart) Transpose(by theory.Interval) (*Chart, error) {
	t := transposer{c: c, ruler: c.Ruler(), by: by}
	t.measure()
	melody, pins, shelved := t.melody(), t.pins(), t.shelved()
	if t.err != nil {
		return nil, t.err
	}
	return c.with(func(d *Chart) {
		d.Key = c.Key.Transpose(t.within(c.Key))
		d.Bars = t.bars()
		d.Changes = t.changes()
		d.Melody = melody
		d.Pins, d.Shelved = pins, shelved
		d.Fingerings = t.fingerings()
	})
}

// IntervalTo returns the interval by which the chart comes to start in a key, the
// smaller way, upward for the tritone. Moving keeps the mode, and the key must have a
// signature; the errors say which key to ask for.
func (c *Chart) IntervalTo(k theory.Key) (theory.Interval, error) {
	f := k.Fifths()
	switch {
	case k.Mode() != c.Key.Mode():
		return theory.Interval{}, fmt.Errorf("the chart is in %s, and moving it keeps its mode; ask for a %s key", c.Key, c.Key.Mode())
	case f > MaxSignature:
		return theory.Interval{}, fmt.Errorf("%s has no key signature; ask for %s", k, theory.KeyFromFifths(f-12, k.Mode()))
	case f < -MaxSignature:
		return theory.Interval{}, fmt.Errorf("%s has no key signature; ask for %s", k, theory.KeyFromFifths(f+12, k.Mode()))
	}
	up := c.Key.Tonic().To(k.Tonic())
	if up.Semitones() > 6 {
		return up.Plus(theory.Octave.Invert()), nil
	}
	return up, nil
}

// transposer knows the interval that each bar's key asks for.
type transposer struct {
	c     *Chart
	ruler *Ruler
	by    theory.Interval
	// bar is the interval in force in each bar.
	bar []theory.Interval
	// err is the first pitch that leaves the range of keys.
	err error
}

// pitch transposes a pitch that belongs to a position.
func (t *transposer) pitch(p theory.Pitch, at Ticks) theory.Pitch {
	q := p.Transpose(t.at(at))
	if !q.IsValid() && t.err == nil {
		t.err = Problem{t.ruler.PositionText(at), fmt.Sprintf("%s would leave the range of keys", p)}
	}
	return q
}

func (t *transposer) measure() {
	t.bar = make([]theory.Interval, len(t.c.Bars))
	for i := range t.bar {
		t.bar[i] = t.within(t.ruler.KeyOfBar(i))
	}
}

// within returns the interval, respelled by as few diminished seconds as keep
// the key's signature printable.
func (t *transposer) within(key theory.Key) theory.Interval {
	by := t.by
	for key.Transpose(by).Fifths() > MaxSignature {
		by = theory.NewInterval(by.Steps()+1, by.Semitones())
	}
	for key.Transpose(by).Fifths() < -MaxSignature {
		by = theory.NewInterval(by.Steps()-1, by.Semitones())
	}
	return by
}

func (t *transposer) at(pos Ticks) theory.Interval { return t.bar[t.ruler.BarAt(pos)] }

func (t *transposer) bars() []Bar {
	bars := slices.Clone(t.c.Bars)
	for i := range bars {
		if bars[i].Key.IsValid() {
			bars[i].Key = bars[i].Key.Transpose(t.bar[i])
		}
	}
	return bars
}

func (t *transposer) changes() []Change {
	changes := slices.Clone(t.c.Changes)
	for i := range changes {
		changes[i].Chord = changes[i].Chord.Transpose(t.at(changes[i].Start))
	}
	return changes
}

func (t *transposer) melody() []Note {
	melody := slices.Clone(t.c.Melody)
	for i := range melody {
		melody[i].Pitch = t.pitch(melody[i].Pitch, melody[i].Start)
	}
	return melody
}

func (t *transposer) pins() []Pin {
	pins := slices.Clone(t.c.Pins)
	for i := range pins {
		pins[i] = t.pin(pins[i])
	}
	return pins
}

func (t *transposer) shelved() []ShelvedPin {
	shelved := slices.Clone(t.c.Shelved)
	for i := range shelved {
		shelved[i].Pin = t.pin(shelved[i].Pin)
	}
	return shelved
}

func (t *transposer) pin(p Pin) Pin {
	voices := make([]theory.Pitch, len(p.Voices))
	for k, v := range p.Voices {
		voices[k] = t.pitch(v, p.Start)
	}
	p.Voices = voices
	return p
}
