package arrange

import (
	"organbook/internal/phrase"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// Keys visited. A cadence to another chord than the key's tonic is a secondary
// dominant while it is only touched, and a modulation where the tune stays:
//
//   - a goal foreign to the key that lasts two bars or more, or that a second
//     cadence confirms, is a new tonic;
//   - a goal that is one of the key's own triads needs the second cadence.
//
// The stretch in the new key runs from the first chord that leads to the goal to
// the last chord that is the goal or leads to it.

// stayBars is how many bars a foreign goal lasts to count as a new tonic.
const stayBars = 2

// modulate finds the stretches in other keys and gives their readings the key.
func modulate(s *stage, spans []Span, readings []reading) {
	for i := range readings {
		readings[i].key = s.keyAt(spans[i].Start)
	}
	for i := 0; i < len(spans); {
		goal, end, cadences, stays := visit(s, spans, readings, i)
		if end <= i {
			i++
			continue
		}
		home := readings[i].key
		if cadences >= 2 || cadences == 1 && stays && !ownTriad(goal, home) {
			key := theory.NewKey(goal.Root(), modeOf(goal))
			for k := i; k < end; k++ {
				readings[k].key = key
				if readings[k].role == roleStay && sameRoot(spans[k].Chord, goal) && !isHalfDiminished(spans[k].Chord) {
					readings[k].role = roleTonic
				}
			}
		}
		i = end
	}
}

func modeOf(c theory.Chord) theory.Mode {
	if c.Has(3, -1) {
		return theory.Minor
	}
	return theory.Major
}

// visit follows the spans from i on while they lead to one goal at rest or are
// it, and returns the goal, the span after the last of them, how many cadences
// reached it, and whether it lasted stayBars. end is i where nothing leads from i
// to such a goal.
func visit(s *stage, spans []Span, readings []reading, i int) (goal theory.Chord, end, cadences int, stays bool) {
	goal = readings[i].goal
	r := &readings[i]
	key := r.key
	leads := r.role == roleTwo || r.role == roleFive || r.role == roleSub
	if !leads || !playable(goal) || isDominant(goal) || !key.IsValid() || goal.Root().PC() == key.Tonic().PC() {
		return goal, i, 0, false
	}
	lasted, at := project.Ticks(0), i
	leading := false
	for ; at < len(spans) && readings[at].key == key; at++ {
		switch c := spans[at].Chord; {
		case sameRoot(c, goal) && !isDominant(c) && readings[at].role != roleTwo:
			if leading {
				cadences++
			}
			leading = false
			lasted += spans[at].End - spans[at].Start
		case readings[at].role != roleNone && playable(readings[at].goal) && sameRoot(readings[at].goal, goal) && !isDominant(readings[at].goal):
			leading = readings[at].role == roleFive || readings[at].role == roleSub
		default:
			return goal, at, cadences, lasted >= stayBars*s.meterAt(spans[i].Start).Length()
		}
	}
	return goal, at, cadences, lasted >= stayBars*s.meterAt(spans[i].Start).Length()
}

// ownTriad reports whether a chord is one of the key's own triads.
func ownTriad(c theory.Chord, key theory.Key) bool {
	third := 4
	if c.Has(3, -1) {
		third = 3
	}
	root := c.Root().PC()
	return signature(key).Covers(theory.NewPCSet(root, root+third, root+7))
}

// dimGoal returns the chord whose family has a diminished chord as its own, for
// one that does not rise by a semitone: of the four families that have it the one
// whose home chord lies best in the key, and a major one before a minor one.
func dimGoal(c theory.Chord, key theory.Key) theory.Chord {
	if !key.IsValid() {
		return theory.Chord{}
	}
	var best theory.Chord
	bestFit := -1
	for _, leading := range []degreeForm{{1, 0}, {3, -1}, {5, -1}, {7, -2}} {
		tonic := key.Spell((degreeName(c, leading).PC() + 1) % 12)
		for _, kind := range [2]theory.Kind{theory.KindMajorSixth, theory.KindMinorSixth} {
			goal, err := theory.NewChord(tonic, kind, nil, theory.Name{})
			if err != nil {
				continue
			}
			if fit := inKey(goal, key); fit > bestFit {
				best, bestFit = goal, fit
			}
		}
	}
	return best
}

// inKey counts the notes of a chord that the key's signature has.
func inKey(c theory.Chord, key theory.Key) int { return (c.PCSet() & signature(key)).Len() }

// dimLabel names the way a diminished chord that does not rise moves on.
func dimLabel(sp *Span, to theory.Chord, key theory.Key) phrase.Phrase {
	switch {
	case !playable(to):
		return phrase.Phrase{}
	case hasPC(sp.Chord.Tones(), to.Root()):
		return phrase.Of("common-tone ° of %s", roman(to, key))
	case rise(sp.Chord, to) == 11:
		return phrase.Of("passing ° to %s", roman(to, key))
	}
	return phrase.Phrase{}
}

// pedals marks the runs of spans over one bass that is not the root of them all.
func pedals(spans []Span, readings []reading) {
	for i := 0; i < len(spans); {
		end, roots := i, 0
		for ; end < len(spans) && playable(spans[end].Chord) && spans[end].Chord.Bass().PC() == spans[i].Chord.Bass().PC(); end++ {
			if end == i || !sameRoot(spans[end].Chord, spans[end-1].Chord) {
				roots++
			}
		}
		for k := i; k < end && roots > 1; k++ {
			readings[k].pedal = spans[k].Chord.HasSlash()
		}
		i = max(end, i+1)
	}
}
