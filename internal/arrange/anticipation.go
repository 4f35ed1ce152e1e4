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
//   - either of them on a note of the old chord that is neither a note nor a
//     customary tension of the next: no, it is a suspension;
//   - an eighth on 4½ followed by a longer note on the change, or by silence
//     that is longer: yes, the push belongs to what it lands on;
//   - an eighth on 4½ inside a run of eighths: no, it passes;
//   - an eighth on 4½ that is a note of the chord still sounding and not of the
//     next one: no, whatever follows; it is the old chord's last word.
//
// "A beat" is the pulse of the meter: a dotted quarter in 6/8.

// early says how a note anticipates a change.
type early uint8

const (
	// onTime is a note that takes the chord it starts in.
	onTime early = iota
	// heldOver is a note that comes early and stays: it has the weight of the
	// beat it anticipates.
	heldOver
	// leadingIn is a short note on the way to the next one, which lands.
	leadingIn
)

// spanOf returns the span whose chord melody note i takes and how it
// anticipates that span.
func spanOf(s *stage, i int) (span int, comes early) {
	n := s.chart.Melody[i]
	at := spanAt(s.spans, n.Start)
	change := at + 1
	if at < 0 || change >= len(s.spans) || !playable(s.spans[change].Chord) {
		return at, onTime
	}
	if s.readings[at].upbeat && s.spans[at].Chord == s.spans[change].Chord {
		return at, onTime // the upbeat has the first chord already
	}
	if tiedInto(s, n, s.spans[change]) && !hangsOver(n, s.spans[at], s.spans[change]) {
		return change, heldOver
	}
	if comes := pushedInto(s, i, s.spans[change]); comes != onTime && !staysBehind(n, s.spans[at], s.spans[change]) {
		return change, comes
	}
	return at, onTime
}

// tiedInto reports whether a note starts within a beat of the change, sounds
// on past it, and has at least half of itself there. Only what is tied into
// the change's own span counts as being there.
func tiedInto(s *stage, n project.Note, change Span) bool {
	before := change.Start - n.Start
	after := min(n.End(), change.End) - change.Start
	return after > 0 && before <= s.meterAt(n.Start).Pulse() && after >= before
}

// hangsOver reports whether a note that is held into a change is a note of the
// chord it starts in, and neither a note nor a customary tension of the next one:
// it is no anticipation but a suspension, and takes each chord in turn.
func hangsOver(n project.Note, now, next Span) bool {
	name := n.Pitch.Name()
	return playable(now.Chord) && now.Chord.PCSet().Has(name.PC()) && !customaryOver(next.Chord, name)
}

// staysBehind reports whether a note that ends before the change belongs to the
// chord it starts in and not to the next one.
func staysBehind(n project.Note, now, next Span) bool {
	pc := n.Pitch.Name().PC()
	return now.Chord.PCSet().Has(pc) && !next.Chord.PCSet().Has(pc)
}

// pushedInto tells whether note i starts on the last off-beat before the
// change, does not sound past it, and is followed by something longer than
// itself: a note that starts on the change, or silence from there on.
func pushedInto(s *stage, i int, change Span) early {
	n := s.chart.Melody[i]
	before := change.Start - n.Start
	if before > s.meterAt(n.Start).Pulse()/2 || n.End() > change.Start {
		return onTime
	}
	following, lands := change.End-change.Start, false
	if i+1 < len(s.chart.Melody) {
		next := s.chart.Melody[i+1]
		if next.Start < change.Start {
			return onTime // not the last before the change
		}
		following, lands = next.Start-change.Start, next.Start == change.Start
		if lands {
			following = next.Duration
		}
	}
	switch {
	case following <= n.Duration:
		return onTime
	case lands:
		return leadingIn
	}
	return heldOver
}
