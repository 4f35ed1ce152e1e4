package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// spot is one melody note, or a part of a held one, in its surroundings: what
// the search needs to know before it looks at blocks.
type spot struct {
	// note is the melody note with index melody, cut to the spot's part of it.
	note   project.Note
	melody int
	// part says what the spot is of its note.
	part        part
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
	// link says whether the note before always comes before this one.
	link link
	// sameChord reports that the blocks stand for the same chord as the spot before.
	sameChord bool
	// short reports that the note lasts a beat at most, so that what is under it
	// may pass.
	short bool
	// late reports that a long dominant leads on here.
	late bool
	// repeats reports that the note before is the same one over the same chord.
	repeats bool
	// thin says how much of a block a fast run leaves, and climax that the
	// voicing opens here.
	thin   thin
	climax bool
	pin    *project.Pin
	// notePin is the pin of the note that the spot is a later part of, and
	// noteSpan the span the note begins in.
	notePin  *project.Pin
	noteSpan int
}

// spots looks at every melody note once, in order; a held note gives a spot for
// each of its parts.
func (s *stage) spots() []spot {
	out := make([]spot, 0, len(s.chart.Melody)+len(s.chart.Melody)/4)
	pins := s.chart.Pins
	for i, n := range s.chart.Melody {
		out = append(out, spot{})
		sp := &out[len(out)-1]
		sp.note, sp.melody, sp.bar, sp.passage = n, i, s.rule.BarAt(n.Start), s.passageAt(n.Start)
		sp.lead = shifted(n.Pitch, sp.passage.Treatment.LeadOctave)
		var comes early
		sp.span, comes = spanOf(s, i)
		sp.anticipates = comes != onTime
		sp.noteSpan = sp.span
		s.setChord(sp)
		sp.restless = s.restlessness(i, n, comes)
		sp.short = n.Duration <= s.meterAt(n.Start).Pulse()
		sp.link = s.linkInto(i)
		sp.joined = i > 0 && sp.link != severed && n.Start-s.chart.Melody[i-1].End() <= s.meterAt(n.Start).Pulse()
		for len(pins) > 0 && pins[0].Start < n.Start {
			pins = pins[1:]
		}
		if len(pins) > 0 && pins[0].Start == n.Start && fits(pins[0], sp.lead) {
			sp.pin = &pins[0]
		}
		if k := len(out) - 2; k >= 0 {
			sp.repeats = sp.joined && out[k].lead.Key() == sp.lead.Key() && out[k].span == sp.span && out[k].passage == sp.passage
		}
		out = s.parts(out)
	}
	for k := 1; k < len(out); k++ {
		out[k].sameChord = out[k].span == out[k-1].span || playable(out[k].heard) && out[k].heard == out[k-1].heard
	}
	s.thinRuns(out)
	s.climaxes(out)
	return out
}

// setChord copies what the spot's span says of its chord.
func (s *stage) setChord(sp *spot) {
	if sp.span < 0 || sp.span >= len(s.spans) {
		return
	}
	sp.chord = s.spans[sp.span].Chord
	r := &s.readings[sp.span]
	sp.reading, sp.heard = r, r.heard
	sp.late = r.open && sp.note.Start >= r.turns
	sp.services, sp.guides, sp.colours, sp.tones = s.wanted(sp), r.guides, r.colours, r.tones
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
	return hasPC(sp.tones, sp.lead.Name()) || customaryTension(sp.heard, sp.lead.Name())
}

// customaryOver is customary for any note over any chord.
func customaryOver(c theory.Chord, n theory.Name) bool {
	return c.PCSet().Has(n.PC()) || customaryTension(c, n)
}

func customaryTension(c theory.Chord, n theory.Name) bool {
	up := (n.PC() - c.Root().PC() + 12) % 12
	switch {
	case isDominant(c):
		return dominantTensions[up]
	case isDiminished(c):
		return false
	case isMinorSeventh(c) && up == 9:
		return false // the third of the dominant that a two prepares
	case c.Has(3, -1):
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

// restlessness weighs how much note i, or the part n of it, asks for rest: by its
// beat, its length and whether it closes a phrase.
func (s *stage) restlessness(i int, n project.Note, comes early) int {
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
// the third of four and the first of a group; the other beats are weak.
func (s *stage) strength(t project.Ticks, m project.Meter) strength {
	in, pulse := s.counted(t, m), m.Pulse()
	if in%pulse != 0 {
		return offBeat
	}
	if m.IsGrouped() {
		if m.StartsGroup(in) {
			return strongBeat
		}
		return weakBeat
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
