package arrange

import "organbook/internal/project"

// Fast runs are thinned, because a whole block on every note of them is heard
// as a blur and cannot be fingered. A run is four notes or more that follow
// each other without a rest, each shorter than fastNote; how much is left of a
// block depends on the time a note has at the tempo:
//
//	up to  veryFast  0.09 s: the lead alone, as sixteenths from 167 on
//	up to  faster    0.105 s: the lead in octaves
//	up to  fastNote  0.135 s: the lead with one voice, a third or sixth below
//
// On the accents, the notes on a beat, the top of the run, and where it lands,
// the block stays whole; of a very fast run only where it lands.
const (
	veryFast = 0.09
	faster   = 0.105
	fastNote = 0.135
)

// shortestRun is the fewest fast notes that make a run.
const shortestRun = 4

// thin says how much of a block a note of a fast run keeps.
type thin uint8

const (
	notThin thin = iota
	thinPair
	thinOctaves
	thinAlone
)

// thinRuns marks the notes of fast runs.
func (s *stage) thinRuns(spots []spot) {
	for i := 0; i < len(spots); {
		end := i
		for end < len(spots) && s.fast(&spots[end]) && (end == i || spots[end].note.Start == spots[end-1].note.End()) {
			end++
		}
		if end-i >= shortestRun {
			s.thinRun(spots[:end], i)
		}
		i = max(end, i+1)
	}
}

// fast reports whether a note is short enough for a run and may be thinned.
func (s *stage) fast(sp *spot) bool {
	return !sp.passage.Treatment.FullRuns && sp.pin == nil && playable(sp.chord) &&
		!bareVoicing(sp.passage.Treatment.Voicing) && sp.passage.Plan != project.SoloOverComp && s.seconds(sp) <= fastNote
}

// seconds returns how long a note lasts at the tempo in force.
func (s *stage) seconds(sp *spot) float64 {
	return float64(sp.note.Duration) / float64(project.Quarter) * 60 / s.tempoAt(sp.bar)
}

// thinRun thins the run of notes from index first to the end of the list.
func (s *stage) thinRun(run []spot, first int) {
	for i := first; i < len(run); i++ {
		sp := &run[i]
		switch t := s.seconds(sp); {
		case t <= veryFast:
			sp.thin = thinAlone
		case s.accented(run, first, i):
			continue
		case t <= faster:
			sp.thin = thinOctaves
		default:
			sp.thin = thinPair
		}
	}
}

// accented reports whether a note of a run stands on a beat or turns at its top.
func (s *stage) accented(run []spot, first, i int) bool {
	sp := &run[i]
	if s.strength(sp.note.Start, s.meterAt(sp.note.Start)) != offBeat {
		return true
	}
	return i > first && i+1 < len(run) && run[i-1].lead.Key() < sp.lead.Key() && run[i+1].lead.Key() < sp.lead.Key()
}
