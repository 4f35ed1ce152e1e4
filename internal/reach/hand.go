package reach

// hand is what the fingering of one hand works with.
type hand struct {
	limb    Limb
	profile Profile
	console Console
	spans   [6][6]span
	stretch Stretch
	moments []moment
	joins   []join
}

// join is how one moment leads to the next: joins[i] joins i to i+1.
type join struct {
	kind joinKind
	// from[k] is the index in the earlier moment of the key that press k of
	// the later one continues (held) or repeats; -1 for a new key.
	from [fingers]int8
	held [fingers]bool
	// time is how long the hand has to move, in seconds.
	time float64
	// gap is the silence between, in seconds.
	gap float64
}

// joinKind says which rules apply between two moments.
type joinKind uint8

const (
	lineJoin   joinKind = iota // one key, then one key: the rules for lines
	chordJoin                  // chords, or keys held over
	manualJoin                 // the hand changes manuals
	restJoin                   // the hand has time to settle anew
)

// restTime is the silence after which a hand sets out anew, in seconds: the
// time of an unhurried lift, move and landing.
const restTime = 0.4

func newHand(notes []Note, of []int, limb Limb, console Console, profile Profile) *hand {
	h := &hand{limb: limb, profile: profile, console: console, stretch: profile.Hands[limb]}
	h.spans = spansOf(h.stretch)
	h.moments = momentsOf(notes, of, limb, console)
	h.joins = make([]join, 0, len(h.moments))
	for i := 1; i < len(h.moments); i++ {
		h.joins = append(h.joins, h.joinOf(&h.moments[i-1], &h.moments[i]))
	}
	return h
}

func (h *hand) joinOf(a, b *moment) join {
	j := join{gap: b.start - a.free, time: b.start - a.start}
	anyHeld := false
	for k := range b.presses {
		j.from[k] = -1
		for l := range a.presses {
			if a.presses[l].key == b.presses[k].key && a.presses[l].division == b.presses[k].division {
				j.from[k] = int8(l)
				j.held[k] = !b.presses[k].struck
				anyHeld = anyHeld || j.held[k]
			}
		}
	}
	switch {
	case anyHeld:
		j.kind = chordJoin
	case j.gap >= restTime:
		j.kind = restJoin
	case !h.console.sameManual(a.presses[0].division, b.presses[0].division):
		j.kind = manualJoin
	case len(a.presses) == 1 && len(b.presses) == 1:
		j.kind = lineJoin
	default:
		j.kind = chordJoin
	}
	return j
}

// threeInLine reports whether moments i, i+1 and i+2 are one line.
func (h *hand) threeInLine(i int) bool {
	return h.joins[i].kind == lineJoin && h.joins[i+1].kind == lineJoin
}
