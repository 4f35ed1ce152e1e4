package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// spot is one melody note in its surroundings: what the search needs to know
// before it looks at blocks.
type spot struct {
	note        project.Note
	lead        theory.Pitch // as played, octave shift included
	bar         int
	span        int
	anticipates bool
	passage     *passage
	chord       theory.Chord
	// heard is the chord the blocks stand for: chord itself, or the dominant
	// where a two is played as five.
	heard    theory.Chord
	reading  *reading
	services []theory.Service
	// guides, colours and tones are the reading's.
	guides, colours, tones []theory.Name
	// restless is what an away block costs here as a resting place.
	restless int
	// joined reports that the note follows the one before it within a beat,
	// so the two are heard as one line.
	joined bool
	pin    *project.Pin
}

// spots looks at every melody note once.
func (s *stage) spots() []spot {
	out := make([]spot, len(s.chart.Melody))
	pins := s.chart.Pins
	for i, n := range s.chart.Melody {
		sp := &out[i]
		sp.note, sp.bar, sp.passage = n, s.rule.BarAt(n.Start), s.passageAt(n.Start)
		sp.lead = shifted(n.Pitch, sp.passage.Treatment.LeadOctave)
		var comes early
		sp.span, comes = spanOf(s, i)
		sp.anticipates = comes != onTime
		if sp.span >= 0 && sp.span < len(s.spans) {
			sp.chord = s.spans[sp.span].Chord
			r := &s.readings[sp.span]
			sp.reading, sp.heard = r, r.heard
			sp.services, sp.guides, sp.colours, sp.tones = r.services, r.guides, r.colours, r.tones
		}
		sp.restless = s.restlessness(i, comes)
		sp.joined = i > 0 && n.Start-s.chart.Melody[i-1].End() <= s.meterAt(n.Start).Pulse()
		for len(pins) > 0 && pins[0].Start < n.Start {
			pins = pins[1:]
		}
		if len(pins) > 0 && pins[0].Start == n.Start && fits(pins[0], sp.lead) {
			sp.pin = &pins[0]
		}
	}
	return out
}

// tensionForms are the customary tensions of a chord by what its third and
// seventh make of it, in semitones above the root.
var (
	dominantTensions = [12]bool{2: true, 9: true}
	minorTensions    = [12]bool{2: true, 5: true, 9: true}
	majorTensions    = [12]bool{2: true, 9: true, 11: true}
)

// customary reports whether the lead is a note of the symbol or a tension that
// it takes without being asked.
func (sp *spot) customary() bool {
	if hasPC(sp.tones, sp.lead.Name()) {
		return true
	}
	up := (sp.lead.Name().PC() - sp.heard.Root().PC() + 12) % 12
	switch {
	case isDominant(sp.heard):
		return dominantTensions[up]
	case sp.heard.Has(3, -1):
		return minorTensions[up]
	}
	return majorTensions[up]
}

// shifted moves the lead by octaves, as far as the keys go.
func shifted(p theory.Pitch, octaves int) theory.Pitch {
	q := p.Transpose(theory.NewInterval(7*octaves, 12*octaves))
	if !q.IsValid() {
		return p
	}
	return q
}

// fits reports whether a pin still belongs to a note: the top voice of a block
// is the lead, in whatever octave.
func fits(p project.Pin, lead theory.Pitch) bool {
	if p.Strength != project.PinBlock {
		return true
	}
	return len(p.Voices) > 0 && p.Voices[0].IsValid() && p.Voices[0].Name().PC() == lead.Name().PC()
}

// restlessness weighs how much a note asks for rest: by its beat, its length
// and whether it closes a phrase.
func (s *stage) restlessness(i int, comes early) int {
	n := s.chart.Melody[i]
	m := s.meterAt(n.Start)
	pulse := m.Pulse()
	cost := 0
	switch s.weightOf(n, m, comes) {
	case strongBeat:
		cost += restlessBeat
	case weakBeat:
		cost += restlessBeat / 3
	}
	beats := int(min(n.Duration/pulse, 4))
	cost += restlessLength * max(0, beats-1)
	if s.closesPhrase(i, pulse) {
		cost += restlessEnd
	}
	return cost
}

// weightOf returns the strength of the beat a note is heard on. A syncopated
// note, most of which lies after the next beat, has come early for that beat;
// one that is held into another chord has come early for the change.
func (s *stage) weightOf(n project.Note, m project.Meter, comes early) strength {
	if comes == heldOver {
		return strongBeat
	}
	own := s.strength(n.Start, m)
	if own != offBeat {
		return own
	}
	pulse := m.Pulse()
	early := pulse - s.counted(n.Start, m)%pulse
	if after := n.Duration - early; after > 0 && after >= early {
		return s.strength(n.Start+early, s.meterAt(n.Start+early))
	}
	return offBeat
}

type strength uint8

const (
	offBeat strength = iota
	weakBeat
	strongBeat
)

// strength places a position in its bar: the first beat is strong, and so is
// the third of four; the other beats are weak.
func (s *stage) strength(t project.Ticks, m project.Meter) strength {
	in, pulse := s.counted(t, m), m.Pulse()
	if in%pulse != 0 {
		return offBeat
	}
	beats := m.Length() / pulse
	if in == 0 || beats%2 == 0 && (in/pulse)%2 == 0 {
		return strongBeat
	}
	return weakBeat
}

// counted returns how far into its bar's count a position lies; a pickup counts
// from the back.
func (s *stage) counted(t project.Ticks, m project.Meter) project.Ticks {
	bar := s.rule.BarAt(t)
	if bar >= len(s.chart.Bars) {
		return t
	}
	in := t - s.rule.BarStart(bar)
	if b := &s.chart.Bars[bar]; b.Unnumbered && b.Length < m.Length() {
		in += m.Length() - b.Length
	}
	return in
}

// closesPhrase reports whether a rest of at least a beat follows note i, or
// nothing at all.
func (s *stage) closesPhrase(i int, pulse project.Ticks) bool {
	if i+1 == len(s.chart.Melody) {
		return true
	}
	return s.chart.Melody[i+1].Start-s.chart.Melody[i].End() >= pulse
}
