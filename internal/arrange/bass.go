package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// bassNote is a note the feet are asked for, before its octave and foot are
// chosen.
type bassNote struct {
	start, end project.Ticks
	name       theory.Name
}

// bass adds the pedal part.
func (p *player) bass() {
	line := p.bassLine()
	if len(line) == 0 {
		return
	}
	if p.console.Pedal.Keys() == 0 {
		p.find(line[0].start, LeftFoot, Caution, phrase.Of("the console has no pedals, so the bass is not played"),
			phrase.Of("choose a console with pedals"), phrase.Of("choose no bass"))
		return
	}
	if !p.gauge.Free(reach.LeftFoot) && !p.gauge.Free(reach.RightFoot) {
		p.find(line[0].start, LeftFoot, Caution, phrase.Of("no foot is free, so the bass is not played"),
			phrase.Of("free a foot for the pedals"), phrase.Of("choose no bass"))
		return
	}
	for i, f := range walk(line, p.console.Pedal) {
		n := line[i]
		p.notes = append(p.notes, Note{
			Start: n.start, Duration: n.end - n.start, Key: f.key, Division: Pedal, Limb: f.foot,
			Layer: LayerBass, Step: -1, Pitch: theory.PitchAt(n.name, f.key),
		})
	}
}

// bassLine writes the names and times of the bass for the whole chart.
func (p *player) bassLine() []bassNote {
	var line []bassNote
	for _, st := range p.stretches() {
		chord := p.spans[st.span].Chord
		switch st.passage.Bass {
		case project.BassRoots:
			line = append(line, bassNote{st.start, st.end, chord.Bass()})
		case project.BassTwoFeel:
			line = append(line, p.twoFeel(st, chord)...)
		}
	}
	return line
}

// twoFeel plays the bass note and its partner on the two halves of each bar.
// A stretch always starts with the bass note, wherever it starts, and halves
// shorter than a beat are not struck.
func (p *player) twoFeel(st stretch, chord theory.Chord) []bassNote {
	root, partner := chord.Bass(), bassPartner(chord)
	line := []bassNote{{st.start, st.end, root}}
	for bar := p.rule.BarAt(st.start); bar < len(p.chart.Bars) && p.rule.BarStart(bar) < st.end; bar++ {
		first := p.rule.BarStart(bar)
		meter := p.meterAt(first)
		for half, at := range [2]project.Ticks{first, first + meter.FirstHalf()} {
			last := &line[len(line)-1]
			tooSoon := at-last.start < meter.Pulse() || st.end-at < meter.Pulse()
			if at >= p.rule.BarStart(bar+1) || tooSoon {
				continue
			}
			last.end = at
			name := root
			if half == 1 {
				name = partner
			}
			line = append(line, bassNote{at, st.end, name})
		}
	}
	return line
}

// bassPartner returns the note that answers the bass in two-feel: the chord's
// fifth; under an inverted chord its root; under a bass foreign to the chord
// the bass itself, since it is a pedal point.
func bassPartner(c theory.Chord) theory.Name {
	if c.HasSlash() {
		if hasPC(c.Tones(), c.Bass()) {
			return c.Root()
		}
		return c.Bass()
	}
	for _, alter := range [3]int{0, -1, 1} {
		if c.Has(5, alter) {
			return degreeName(c, degreeForm{5, alter})
		}
	}
	return c.Root()
}
