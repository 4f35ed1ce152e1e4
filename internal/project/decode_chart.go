package project

import (
	"fmt"

	"organbook/internal/theory"
)

// chart converts what was read; Check has the last word on its sense.
func (w *wireChart) chart() (*Chart, error) {
	c := &Chart{Title: w.Title, Composer: w.Composer, Tempo: w.Tempo, Swing: w.Swing, Console: w.Console}
	steps := []func() error{
		func() (err error) { c.Key, err = theory.ParseKey(w.Key); return },
		func() (err error) { c.Bars, err = elements(w.Bars, "bars", MaxBars, barReader()); return },
		func() (err error) {
			c.Changes, err = elements(w.Changes, "changes", MaxChanges, wireChange.change)
			return
		},
		func() (err error) { c.Melody, err = elements(w.Melody, "melody", MaxNotes, wireNote.note); return },
		func() (err error) {
			c.Passages, err = elements(w.Passages, "passages", MaxBars, wirePassage.passage)
			return
		},
		func() (err error) { c.Pins, err = elements(w.Pins, "pins", MaxNotes, wirePin.pin); return },
		func() (err error) {
			c.Shelved, err = elements(w.Shelved, "shelvedPins", MaxNotes, wireShelvedPin.shelved)
			return
		},
		func() (err error) {
			c.Fingerings, err = elements(w.Fingers, "fingerings", MaxNotes, wireFingering.fingering)
			return
		},
		func() (err error) { c.Player, err = w.Player.player(); return },
		func() error { c.Tone = w.Tone.tone(); return nil },
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// barReader returns a conversion that remembers the meter of the bar before.
func barReader() func(wireBar) (Bar, error) {
	var meter Meter
	return func(w wireBar) (Bar, error) {
		if w.Meter != "" {
			m, err := ParseMeter(w.Meter)
			if err != nil {
				return Bar{}, err
			}
			meter = m
		}
		if !meter.IsValid() {
			return Bar{}, fmt.Errorf("the first bar has no meter")
		}
		return w.bar(meter)
	}
}

func (w wireBar) bar(meter Meter) (b Bar, err error) {
	b = Bar{
		Meter: meter, Length: w.Length, Unnumbered: w.Unnumbered, Tempo: w.Tempo, Section: w.Section,
		RepeatStart: w.RepeatStart, RepeatEnd: w.RepeatEnd, Times: w.Times,
		Ending: w.Ending, EndingStart: w.EndingStart,
		Segno: w.Segno, Coda: w.Coda, Fine: w.Fine, ToCoda: w.ToCoda,
	}
	if w.Length == 0 {
		b.Length = meter.Length()
	}
	if w.Key != "" {
		if b.Key, err = theory.ParseKey(w.Key); err != nil {
			return b, err
		}
	}
	b.Jump, err = ParseJump(w.Jump)
	return b, err
}

func (w wireChange) change() (Change, error) {
	chord, err := theory.ParseChord(w.Chord)
	return Change{w.Start, chord}, err
}

func (w wireNote) note() (Note, error) {
	pitch, err := theory.ParsePitch(w.Pitch)
	return Note{w.Start, w.Duration, pitch}, err
}

func (w wirePassage) passage() (p Passage, err error) {
	p.Name, p.First = w.Name, w.FirstBar
	if p.Treatment, p.Plan, p.Bass, p.Registration, err = w.arrangement(); err != nil {
		return p, err
	}
	p.Take = w.Take
	for _, t := range w.Takes[:min(len(w.Takes), MaxTakes+1)] {
		take, err := t.take()
		if err != nil {
			return p, err
		}
		p.Takes = append(p.Takes, take)
	}
	return p, nil
}

func (w wireRegistration) registration() (r Registration, err error) {
	r.Name, r.Swell, r.Glide = w.Name, w.Swell, w.Glide
	if r.Rotary, err = ParseRotary(w.Rotary); err != nil {
		return r, err
	}
	for _, d := range []struct {
		name string
		to   []uint8
		from []int
	}{
		{"upper", r.Upper[:], w.Upper}, {"lower", r.Lower[:], w.Lower}, {"pedal", r.Pedal[:], w.Pedal},
	} {
		if err := setDrawbars(d.to, d.from); err != nil {
			return r, fmt.Errorf("%s drawbars: %w", d.name, err)
		}
	}
	r.Effects, err = w.effects()
	return r, err
}

func (w wireEffects) effects() (e Effects, err error) {
	e.Drive, e.Room = w.Drive, w.Room
	if w.Accent != nil {
		e.Accent.Loud, e.Accent.Long = w.Accent.Loud, w.Accent.Long
		if e.Accent.Pitch, err = ParseAccentPitch(w.Accent.Pitch); err != nil {
			return e, err
		}
	}
	if len(w.Vibrato) != 0 && len(w.Vibrato) != len(e.Vibrato) {
		return e, fmt.Errorf("vibrato of %d divisions instead of %d", len(w.Vibrato), len(e.Vibrato))
	}
	for i, word := range w.Vibrato {
		if e.Vibrato[i], err = ParseVibrato(word); err != nil {
			return e, err
		}
	}
	return e, nil
}

func setDrawbars(to []uint8, from []int) error {
	if len(from) != len(to) {
		return fmt.Errorf("%d settings instead of %d", len(from), len(to))
	}
	for i, d := range from {
		if d < 0 || d > MaxDrawbar {
			return fmt.Errorf("%d is outside 0 to %d", d, MaxDrawbar)
		}
		to[i] = uint8(d)
	}
	return nil
}

func (w wirePin) pin() (p Pin, err error) {
	p.Start = w.Start
	if p.Voicing, err = theory.ParseVoicing(w.Voicing); err != nil {
		return p, err
	}
	if p.Strength, err = parseUnlessEmpty(w.Strength, ParsePinStrength); err != nil {
		return p, err
	}
	if p.Technique, err = parseUnlessEmpty(w.Technique, theory.ParseTechnique); err != nil {
		return p, err
	}
	p.Voices = make([]theory.Pitch, len(w.Voices))
	for i, s := range w.Voices {
		if p.Voices[i], err = theory.ParsePitch(s); err != nil {
			return p, err
		}
	}
	return p, nil
}
