package reach

import (
	"cmp"
	"slices"
)

// fingers is how many keys one hand takes at once.
const fingers = 5

// press is a key that is down at a moment. Keys of the left hand are mirrored
// about D, which maps naturals on naturals and sharps on sharps, so that one
// set of rules, written for the right hand, serves both.
type press struct {
	note     int // index of the note
	key      int
	x        int // hundredths of a millimetre, mirrored like key
	sharp    bool
	struck   bool // at this moment, not held over from an earlier one
	fixed    int  // the player's own finger, 0 for none
	division Division
}

// moment is a point of time at which a hand strikes at least one key, with all
// keys it then holds, ascending and distinct.
type moment struct {
	at      Ticks
	start   float64
	presses []press
	// free is when the hand has let go of the keys that the next moment does
	// not hold, in seconds.
	free float64
	// bridged reports that the keys lie on two manuals.
	bridged bool
	// dropped are notes beyond the five keys a hand can take.
	dropped []int
}

// mirror is the key opposite under reflection about D4.
func mirror(key int) int { return 2*62 - key }

// momentsOf cuts the notes of one hand, given by index, into moments.
func momentsOf(notes []Note, of []int, hand Limb, console Console) []moment {
	order := slices.Clone(of)
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(notes[i].At, notes[j].At), cmp.Compare(notes[i].Key, notes[j].Key))
	})
	var out []moment
	var held []int
	for from := 0; from < len(order); {
		to := from
		at := notes[order[from]].At
		for to < len(order) && notes[order[to]].At == at {
			to++
		}
		held = slices.DeleteFunc(held, func(i int) bool { return notes[i].Until <= at })
		held = append(held, order[from:to]...)
		out = append(out, momentOf(notes, held, at, hand, console))
		from = to
	}
	for i := range out {
		out[i].free = freeAt(notes, out, i)
	}
	return out
}

func momentOf(notes []Note, sounding []int, at Ticks, hand Limb, console Console) moment {
	m := moment{at: at, presses: make([]press, 0, len(sounding))}
	for _, i := range sounding {
		n := &notes[i]
		p := press{
			note: i, key: n.Key, x: console.middle(n.Division, n.Key), sharp: isSharp(n.Key),
			struck: n.At == at, division: n.Division,
		}
		if p.struck {
			m.start, p.fixed = n.Start, n.Finger // a held key may change fingers
		}
		if hand == LeftHand {
			p.key, p.x = mirror(p.key), 2*middleOf(62)-p.x
		}
		m.presses = append(m.presses, p)
	}
	slices.SortStableFunc(m.presses, func(a, b press) int {
		return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.key, b.key))
	})
	m.presses = slices.CompactFunc(m.presses, func(a, b press) bool { return a.key == b.key && console.sameManual(a.division, b.division) })
	m.thin()
	for i := range m.presses {
		m.bridged = m.bridged || !console.sameManual(m.presses[0].division, m.presses[i].division)
	}
	return m
}

// thin drops the inner keys that a hand has no finger for.
func (m *moment) thin() {
	for len(m.presses) > fingers {
		k := len(m.presses) / 2
		m.dropped = append(m.dropped, m.presses[k].note)
		m.presses = slices.Delete(m.presses, k, k+1)
	}
}

// freeAt returns when the hand has let go of what moment i holds and the next
// one does not.
func freeAt(notes []Note, all []moment, i int) float64 {
	free := all[i].start
	for _, p := range all[i].presses {
		if i+1 < len(all) && all[i+1].holds(p.note) {
			continue
		}
		free = max(free, notes[p.note].End)
	}
	if i+1 < len(all) {
		free = min(free, all[i+1].start)
	}
	return free
}

// holds reports whether a note is among the keys of the moment and was struck
// before it.
func (m *moment) holds(note int) bool {
	for i := range m.presses {
		if m.presses[i].note == note {
			return !m.presses[i].struck
		}
	}
	return false
}
