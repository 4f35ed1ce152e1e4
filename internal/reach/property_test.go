package reach

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

// streams draws what a hand may be given: chords and lines, held and struck
// keys, rests, changes of manual, the player's own numbers.
func streams(moments int) *rapid.Generator[[]Note] {
	return rapid.Custom(func(t *rapid.T) []Note {
		var out []Note
		at := Ticks(0)
		centre := 60
		for range rapid.IntRange(1, moments).Draw(t, "moments") {
			centre = max(48, min(84, centre+rapid.IntRange(-7, 7).Draw(t, "move")))
			length := Ticks(rapid.SampledFrom([]int{1260, 2520, 5040, 10080}).Draw(t, "length"))
			division := Division(rapid.SampledFrom([]int{0, 0, 0, 0, 1}).Draw(t, "division"))
			keys := rapid.SliceOfNDistinct(rapid.IntRange(centre-6, centre+7), 1, rapid.SampledFrom([]int{1, 1, 2, 4}).Draw(t, "thickness"), rapid.ID[int]).Draw(t, "keys")
			for _, k := range keys {
				held := Ticks(rapid.SampledFrom([]int{1, 1, 1, 2}).Draw(t, "held"))
				finger := rapid.SampledFrom([]int{0, 0, 0, 0, 0, 0, 1, 2, 3, 4, 5}).Draw(t, "finger")
				out = append(out, Note{At: at, Until: at + held*length, Key: k, Division: division, Finger: finger,
					Start: seconds(at), End: seconds(at + held*length)})
			}
			at += length + Ticks(rapid.SampledFrom([]int{0, 0, 0, 0, 20160}).Draw(t, "rest"))
		}
		return cutRepeats(out)
	})
}

// cutRepeats ends each note where its key is struck again.
func cutRepeats(notes []Note) []Note {
	for i := range notes {
		for j := range notes {
			if a, b := &notes[i], &notes[j]; a.Key == b.Key && a.Division == b.Division && a.At < b.At && a.Until > b.At {
				a.Until, a.End = b.At, b.Start
			}
		}
	}
	return notes
}

func seconds(at Ticks) float64 { return float64(at) / 10080 / 2 }

// every calls f with each sequence of grips of a hand.
func every(lists [][]grip, grips []grip, f func([]grip)) {
	if len(grips) == len(lists) {
		f(grips)
		return
	}
	for _, g := range lists[len(grips)] {
		every(lists, append(grips, g), f)
	}
}

func TestSearchEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(6).Draw(t, "notes")
		limb := Limb(rapid.IntRange(0, 1).Draw(t, "hand"))
		h := newHand(notes, allOf(notes), limb, FullConsole, anyProfile(t))
		lists, ways := make([][]grip, len(h.moments)), 1
		for i := range h.moments {
			lists[i] = gripsOf(&h.moments[i])
			ways *= len(lists[i])
		}
		if ways > 200_000 {
			t.Skip("too many ways to try them all")
		}
		best := infinite
		every(lists, nil, func(g []grip) { best = min(best, h.costOf(g)) })
		s := h.solve()
		if s.cost != best || h.costOf(s.grips) != best {
			t.Fatalf("search finds %d (adds up to %d) by %v; the cheapest of all is %d", s.cost, h.costOf(s.grips), s.grips, best)
		}
	})
}

const infinite = int(^uint(0) >> 2)

func anyProfile(t *rapid.T) Profile {
	p := rapid.SampledFrom(Profiles()).Draw(t, "profile")
	p.Touch = Touch(rapid.IntRange(0, 1).Draw(t, "touch"))
	p.Feet = Feet(rapid.IntRange(0, 1).Draw(t, "feet"))
	return p
}

func TestLeftHandMirrorsTheRight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(12).Draw(t, "notes")
		mirrored := make([]Note, len(notes))
		for i, n := range notes {
			n.Limb = RightHand
			notes[i] = n
			n.Limb, n.Key = LeftHand, 124-n.Key
			mirrored[i] = n
		}
		p := anyProfile(t)
		right := Check(Piece{Console: FullConsole, Profile: p, Notes: notes})
		left := Check(Piece{Console: FullConsole, Profile: p, Notes: mirrored})
		if !reflect.DeepEqual(right.Marks, left.Marks) {
			t.Fatalf("right hand %v\nleft hand %v", right.Marks, left.Marks)
		}
	})
}

func TestOctavesAreAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(12).Draw(t, "notes")
		limb := Limb(rapid.IntRange(0, 1).Draw(t, "hand"))
		higher := make([]Note, len(notes))
		for i := range notes {
			notes[i].Limb = limb
			higher[i] = notes[i]
			higher[i].Key += 12
		}
		p := anyProfile(t)
		wide := Console{Upper: Compass{0, 127}, Lower: Compass{0, 127}, Pedal: Compass{36, 60}}
		a, b := Check(Piece{Console: wide, Profile: p, Notes: notes}), Check(Piece{Console: wide, Profile: p, Notes: higher})
		if !reflect.DeepEqual(a.Marks, b.Marks) || len(a.Findings) != len(b.Findings) {
			t.Fatalf("%v\n%v", a.Marks, b.Marks)
		}
	})
}

func TestOwnNumbersAreKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(12).Draw(t, "notes")
		h := newHand(notes, allOf(notes), RightHand, FullConsole, anyProfile(t))
		s := h.solve()
		for i, m := range h.moments {
			for k, p := range m.presses {
				if p.fixed != 0 && int(s.grips[i][k]) != p.fixed {
					t.Fatalf("finger %d became %d at moment %d", p.fixed, s.grips[i][k], i)
				}
			}
		}
	})
}

func everyTread(f *feet, treads []tread, do func([]tread)) {
	if len(treads) == len(f.moments) {
		do(treads)
		return
	}
	for _, t := range f.treads(&f.moments[len(treads)]) {
		everyTread(f, append(treads, t), do)
	}
}

func TestPedallingEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(6).Draw(t, "notes")
		for i := range notes {
			notes[i].Division, notes[i].Key = Pedal, 36+notes[i].Key%25
		}
		f := newFeet(cutRepeats(notes), allOf(notes), FullConsole, anyProfile(t))
		ways, best := 1, infinite
		for i := range f.moments {
			ways *= len(f.treads(&f.moments[i]))
		}
		if ways > 100_000 {
			t.Skip("too many ways to try them all")
		}
		everyTread(f, nil, func(tr []tread) { best = min(best, f.costOf(tr)) })
		got, cost := f.solve()
		if cost != best || f.costOf(got) != best {
			t.Fatalf("search finds %d (adds up to %d); the cheapest of all is %d", cost, f.costOf(got), best)
		}
	})
}
