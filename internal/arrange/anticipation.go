package arrange

import "organbook/internal/project"

// A melody note that anticipates a change takes the chord it anticipates.
// Which notes do, in 4/4 with a change on the next first beat:
//
//   - an eighth on 4½ tied into the bar: yes, it is the chord's own note come
//     early;
//   - a quarter on 4 tied to a quarter or more: yes, at least half of it lies
//     after the change;
//   - a half note on 3 tied to a whole: no, it starts more than a beat early,
//     so the old chord has time to be heard against it;
//   - a quarter on 4 tied to an eighth: no, most of it belongs to the old chord;
//   - an eighth on 4½ followed by a longer note on the change, or by silence
//     that is longer: yes, the push belongs to what it lands on;
//   - an eighth on 4½ inside a run of eighths: no, it passes.
//
// "A beat" is the pulse of the meter: a dotted quarter in 6/8.

// spanOf returns the span whose chord melody note i takes and whether it
// anticipates that span.
func spanOf(s *stage, i int) (span int, anticipates bool) {
	n := s.chart.Melody[i]
	at := spanAt(s.spans, n.Start)
	change := at + 1
	if at < 0 || change >= len(s.spans) || !playable(s.spans[change].Chord) {
		return at, false
	}
	if s.readings[at].upbeat && s.spans[at].Chord == s.spans[change].Chord {
		return at, false // the upbeat has the first chord already
	}
	if anticipates := tiedInto(s, n, s.spans[change]) || pushedInto(s, i, s.spans[change]); anticipates {
		return change, true
	}
	return at, false
}

// tiedInto reports whether a note starts within a beat of the change, sounds
// on past it, and has at least half of itself there. Only what is tied into
// the change's own span counts as being there.
func tiedInto(s *stage, n project.Note, change Span) bool {
	before := change.Start - n.Start
	after := min(n.End(), change.End) - change.Start
	return after > 0 && before <= s.meterAt(n.Start).Pulse() && after >= before
}

// pushedInto reports whether note i starts on the last off-beat before the
// change, does not sound past it, and is followed by something longer than
// itself: a note that starts on the change, or silence from there on.
func pushedInto(s *stage, i int, change Span) bool {
	n := s.chart.Melody[i]
	before := change.Start - n.Start
	if before > s.meterAt(n.Start).Pulse()/2 || n.End() > change.Start {
		return false
	}
	if i+1 == len(s.chart.Melody) {
		return change.End-change.Start > n.Duration
	}
	following := s.chart.Melody[i+1]
	switch {
	case following.Start < change.Start:
		return false // not the last before the change
	case following.Start == change.Start:
		return following.Duration > n.Duration
	}
	return following.Start-change.Start > n.Duration
}
