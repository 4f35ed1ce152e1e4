package arrange

import (
	"organbook/internal/project"
	"organbook/internal/theory"
)

// A phrase ends before a rest of a beat or more, and on a long note: three
// beats, or two when the notes on both sides are at most half as long. Its last
// note asks for rest.

// closesPhrase reports whether note i ends a phrase.
func (s *stage) closesPhrase(i int, pulse project.Ticks) bool {
	melody := s.chart.Melody
	if i+1 == len(melody) || melody[i+1].Start-melody[i].End() >= pulse {
		return true
	}
	n := melody[i]
	if n.Duration < 2*pulse || i == 0 {
		return false
	}
	return n.Duration >= 3*pulse || 2*melody[i-1].Duration <= n.Duration && 2*melody[i+1].Duration <= n.Duration
}

// A phrase has a climax worth opening for when it has so many notes and its top
// lies so many semitones above its middle.
const (
	climaxNotes = 5
	climaxRise  = 5
	// climaxReach is how far below its top a phrase counts as climax.
	climaxReach = 2
)

// climaxes marks the notes at the top of each phrase in passages that may open
// there: the highest note and those beside it that stay within a whole tone.
func (s *stage) climaxes(spots []spot) {
	from := 0
	for i := range spots {
		last := i+1 == len(spots) || spots[i+1].passage != spots[i].passage
		if !last && !(s.closesPhrase(spots[i].melody, s.meterAt(spots[i].note.Start).Pulse()) && spots[i+1].melody != spots[i].melody) {
			continue
		}
		if spots[i].passage.Treatment.OpenAtClimax {
			markClimax(spots[from : i+1])
		}
		from = i + 1
	}
}

func markClimax(phrase []spot) {
	top, sum := 0, 0
	for i := range phrase {
		sum += phrase[i].lead.Key()
		if phrase[i].lead.Key() > phrase[top].lead.Key() {
			top = i
		}
	}
	if len(phrase) < climaxNotes || phrase[top].lead.Key()*len(phrase)-sum < climaxRise*len(phrase) {
		return
	}
	near := func(i int) bool { return phrase[top].lead.Key()-phrase[i].lead.Key() <= climaxReach }
	for i := top; i >= 0 && near(i); i-- {
		phrase[i].climax = true
	}
	for i := top; i < len(phrase) && near(i); i++ {
		phrase[i].climax = true
	}
}

// opened returns the next wider voicing, for the climax of a phrase.
func opened(v theory.Voicing) theory.Voicing {
	switch v {
	case theory.Close:
		return theory.Drop2
	case theory.Drop2, theory.Drop3:
		return theory.Drop24
	case theory.ThreePart, theory.Pair:
		return theory.Close
	}
	return v
}
