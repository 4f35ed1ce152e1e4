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
	fixed    int // the player's own finger, 0 for none
	sharp    bool
	struck   bool // at this moment, not held over from an earlier one
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
	// swelling reports that the right foot is on the expression pedal.
	swelling bool
	// dropped are notes beyond the five keys a hand can take.
	dropped []int
}

// mirror is the key opposite under reflection about D4.
func mirror(key int) int { return 2*62 - key }

// momentsOf cuts the notes of one hand, given by index, into moments.
func momentsOf(notes []Note, of []int, hand Limb, console Console) []moment {
	order := inTime(notes, of)
	out := make([]moment, 0, momentCount(notes, order))
	room := make([]press, 0, len(order)) // what is held over comes on top
	var held []int
	for from := 0; from < len(order); {
		to := from
		at := notes[order[from]].At
		for to < len(order) && notes[order[to]].At == at {
			to++
		}
		held = slices.DeleteFunc(held, func(i int) bool { return notes[i].Until <= at })
		held = append(held, order[from:to]...)
		if cap(room)-len(room) < len(held) {
			room = make([]press, 0, max(len(held), len(order)))
		}
		m := momentOf(notes, held, at, hand, console, room[len(room):len(room):len(room)+len(held)])
		room = room[:len(room)+len(held)]
		out = append(out, m)
		from = to
	}
	for i := range out {
		out[i].free = freeAt(notes, out, i)
	}
	return out
}

// inTime returns notes, given by index, in the order in which they are struck.
func inTime(notes []Note, of []int) []int {
	byTime := func(i, j int) int { return cmp.Compare(notes[i].At, notes[j].At) }
	if slices.IsSortedFunc(of, byTime) {
		return of
	}
	order := slices.Clone(of)
	slices.SortStableFunc(order, byTime)
	return order
}

// momentCount counts the different times at which notes, in order, are struck.
func momentCount(notes []Note, order []int) (n int) {
	for k, i := range order {
		if k == 0 || notes[i].At != notes[order[k-1]].At {
			n++
		}
	}
	return n
}

// momentOf makes the moment at which some of the sounding notes are struck; room
// is empty and has room for them.
func momentOf(notes []Note, sounding []int, at Ticks, hand Limb, console Console, room []press) moment {
	m := moment{at: at, presses: room}
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
	m.sort()
	m.presses = slices.CompactFunc(m.presses, func(a, b press) bool { return a.key == b.key && console.sameManual(a.division, b.division) })
	m.thin()
	for i := range m.presses {
		m.bridged = m.bridged || !console.sameManual(m.presses[0].division, m.presses[i].division)
	}
	return m
}

// sort puts the keys in order by insertion: there are few.
func (m *moment) sort() {
	for k := 1; k < len(m.presses); k++ {
		for l := k; l > 0; l-- {
			a, b := &m.presses[l-1], &m.presses[l]
			if a.x < b.x || a.x == b.x && a.key <= b.key {
				break
			}
			*a, *b = *b, *a
		}
	}
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
