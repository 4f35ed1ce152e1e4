package project

import (
	"errors"
	"slices"
)

// Fingering is the player's own finger for a key that is struck together with
// a melody note. It follows the note through every edit, as pins do, and waits
// when no hand plays the key any more.
type Fingering struct {
	// Start is where the melody note starts.
	Start Ticks
	// Key is the MIDI key, 0 to 127.
	Key int
	// Finger is 1 (thumb) to 5.
	Finger int
}

// MaxFinger is the little finger.
const MaxFinger = 5

// compareFingerings orders by position, then by key.
func compareFingerings(a, b Fingering) int {
	if a.Start != b.Start {
		return compare(a.Start, b.Start)
	}
	return a.Key - b.Key
}

// SetFinger gives the key Key, struck with the melody note that starts at
// Start, a finger of the player's own; finger 0 leaves the choice to the
// program again.
type SetFinger Fingering

// Name returns "set finger" or "clear finger".
func (e SetFinger) Name() string {
	if e.Finger == 0 {
		return "clear finger"
	}
	return "set finger"
}

// Apply fails when no note starts there, for a finger no hand has, and when
// there is no finger to clear.
func (e SetFinger) Apply(c *Chart) (*Chart, error) {
	i, found := slices.BinarySearchFunc(c.Fingerings, Fingering(e), compareFingerings)
	if e.Finger == 0 && !found {
		return nil, errors.New("there is no finger of your own to clear here")
	}
	return c.with(func(d *Chart) {
		d.Fingerings = slices.Clone(c.Fingerings)
		switch {
		case e.Finger == 0:
			d.Fingerings = slices.Delete(d.Fingerings, i, i+1)
		case found:
			d.Fingerings[i] = Fingering(e)
		default:
			d.Fingerings = slices.Insert(d.Fingerings, i, Fingering(e))
		}
	})
}

// ClearFingers leaves the fingers of every key struck from From to To, end
// excluded, to the program.
type ClearFingers struct{ From, To Ticks }

// Name returns "clear fingers".
func (ClearFingers) Name() string { return "clear fingers" }

// Apply never fails; without a finger in the range it returns c itself.
func (e ClearFingers) Apply(c *Chart) (*Chart, error) {
	in := func(f Fingering) bool { return f.Start >= e.From && f.Start < e.To }
	if !slices.ContainsFunc(c.Fingerings, in) {
		return c, nil
	}
	return c.with(func(d *Chart) { d.Fingerings = slices.DeleteFunc(slices.Clone(c.Fingerings), in) })
}

// FingerOf returns the player's own finger for a key struck at a position, 0
// for none.
func (c *Chart) FingerOf(start Ticks, key int) int {
	i, found := slices.BinarySearchFunc(c.Fingerings, Fingering{Start: start, Key: key}, compareFingerings)
	if !found {
		return 0
	}
	return c.Fingerings[i].Finger
}

func (k *checker) fingerings() {
	for i, f := range k.c.Fingerings {
		if i > 0 && compareFingerings(k.c.Fingerings[i-1], f) >= 0 {
			k.at(f.Start, "fingers are out of order, or a key has two")
		}
		if _, ok := k.c.NoteStarting(f.Start); !ok {
			k.at(f.Start, "a finger has no note")
		}
		if f.Finger < 1 || f.Finger > MaxFinger {
			k.at(f.Start, "there is no finger %d", f.Finger)
		}
		if f.Key < 0 || f.Key > 127 {
			k.at(f.Start, "there is no key %d", f.Key)
		}
	}
}

// fingerings moves the fingers along with their keys; one whose key leaves the
// range goes.
func (t *transposer) fingerings() []Fingering {
	var out []Fingering
	for _, f := range t.c.Fingerings {
		f.Key += t.at(f.Start).Semitones()
		if f.Key >= 0 && f.Key <= 127 {
			out = append(out, f)
		}
	}
	return out
}

type wireFingering struct {
	Start  Ticks `json:"start"`
	Key    int   `json:"key"`
	Finger int   `json:"finger"`
}

func wireFingeringOf(f Fingering) wireFingering { return wireFingering(f) }

func (w wireFingering) fingering() (Fingering, error) { return Fingering(w), nil }
