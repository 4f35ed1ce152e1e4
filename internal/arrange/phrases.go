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
	// climaxReach is how far below its top a phrase counts as climax at least.
	climaxReach = 2
	// climaxBeats is how long an opened stretch lasts at least: a voicing that
	// opens for one short note flickers.
	climaxBeats = 2
)

// climaxes marks the stretch around the top of each phrase in passages that may
// open there. The contour of the line decides once for the whole stretch: it
// rises into it and falls out of it, and in between the voicing stays open.
func (s *stage) climaxes(spots []spot) {
	from := 0
	for i := range spots {
		last := i+1 == len(spots) || spots[i+1].passage != spots[i].passage
		if !last && !(s.closesPhrase(spots[i].melody, s.meterAt(spots[i].note.Start).Pulse()) && spots[i+1].melody != spots[i].melody) {
			continue
		}
		if spots[i].passage.Treatment.OpenAtClimax {
			markClimax(spots[from:i+1], climaxBeats*s.meterAt(spots[from].note.Start).Pulse())
		}
		from = i + 1
	}
}

// markClimax marks the climax of one phrase, if it has one that lasts.
func markClimax(phrase []spot, lasts project.Ticks) {
	top, middle := heights(phrase)
	high := phrase[top].lead.Key()
	if len(phrase) < climaxNotes || high-middle < climaxRise {
		return
	}
	floor := high - max(climaxReach, (high-middle)/2)
	first, last := stretchAbove(phrase, top, floor)
	if held(phrase[first:last+1]) < lasts {
		first, last = stretchAbove(phrase, top, middle)
	}
	if held(phrase[first:last+1]) < lasts {
		return
	}
	for i := first; i <= last; i++ {
		phrase[i].climax = true
	}
}

// heights returns the index of a phrase's first highest note and the average key
// of its notes, rounded up.
func heights(phrase []spot) (top, middle int) {
	sum := 0
	for i := range phrase {
		sum += phrase[i].lead.Key()
		if phrase[i].lead.Key() > phrase[top].lead.Key() {
			top = i
		}
	}
	return top, (sum + len(phrase) - 1) / len(phrase)
}

// stretchAbove returns the first and last index of the notes around top that do
// not fall below a key.
func stretchAbove(phrase []spot, top, floor int) (first, last int) {
	first, last = top, top
	for first > 0 && phrase[first-1].lead.Key() >= floor {
		first--
	}
	for last+1 < len(phrase) && phrase[last+1].lead.Key() >= floor {
		last++
	}
	return first, last
}

// held returns how long spots last.
func held(spots []spot) (sum project.Ticks) {
	for i := range spots {
		sum += spots[i].note.Duration
	}
	return sum
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
