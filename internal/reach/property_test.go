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

// cheaper looks for a sequence of grips that costs less than a bound, by trying
// all: costs are never below zero, so a beginning that costs the bound leads to
// none. It knows nothing of the search.
func cheaper(h *hand, lists [][]grip, grips []grip, bound int) ([]grip, bool) {
	switch {
	case h.costOf(grips) >= bound:
		return nil, false
	case len(grips) == len(lists):
		return grips, true
	}
	for _, g := range lists[len(grips)] {
		if found, ok := cheaper(h, lists, append(grips, g), bound); ok {
			return found, true
		}
	}
	return nil, false
}

// TestSearchEqualsBruteForce holds for every stream of up to six moments that
// no sequence of grips is cheaper than what the search finds.
func TestSearchEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(6).Draw(t, "notes")
		limb := Limb(rapid.IntRange(0, 1).Draw(t, "hand"))
		h := newHand(notes, allOf(notes), limb, FullConsole, anyProfile(t))
		lists := make([][]grip, len(h.moments))
		for i := range h.moments {
			lists[i] = everyGrip(&h.moments[i])
		}
		s := h.solve()
		if plain := h.costOf(s.grips); plain != s.cost {
			t.Fatalf("search says %d, its fingers add up to %d", s.cost, plain)
		}
		if better, ok := cheaper(h, lists, nil, s.cost); ok {
			t.Fatalf("search finds %d by %v; %v costs %d", s.cost, s.grips, better, h.costOf(better))
		}
	})
}

// everyGrip lists the grips of a moment as its rules say: ascending fingers
// that keep the player's numbers; where there are none, any that keep them and
// give each other key a finger of its own.
func everyGrip(m *moment) (out []grip) {
	for _, ascending := range []bool{true, false} {
		var g grip
		var fill func(k int)
		fill = func(k int) {
			if k == len(m.presses) {
				out = append(out, g)
				return
			}
			for f := uint8(1); f <= fingers; f++ {
				g[k] = f
				if fits(m, g, k, ascending) {
					fill(k + 1)
				}
			}
			g[k] = 0
		}
		if fill(0); len(out) > 0 {
			return out
		}
	}
	return nil
}

// fits reports whether finger k of a grip may follow those before it.
func fits(m *moment, g grip, k int, ascending bool) bool {
	if fixed := m.presses[k].fixed; fixed != 0 {
		return int(g[k]) == fixed && (!ascending || k == 0 || g[k-1] < g[k])
	}
	if ascending {
		return k == 0 || g[k-1] < g[k]
	}
	for l := range m.presses {
		if l < k && g[l] == g[k] || m.presses[l].fixed == int(g[k]) {
			return false
		}
	}
	return true
}

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

// cheaperFeet is cheaper for feet.
func cheaperFeet(f *feet, treads []tread, bound int) bool {
	switch {
	case f.costOf(treads) >= bound:
		return false
	case len(treads) == len(f.moments):
		return true
	}
	for _, t := range f.treads(&f.moments[len(treads)]) {
		if cheaperFeet(f, append(treads, t), bound) {
			return true
		}
	}
	return false
}

func TestPedallingEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		notes := streams(6).Draw(t, "notes")
		for i := range notes {
			notes[i].Division, notes[i].Key = Pedal, 36+notes[i].Key%25
		}
		swelling := Span{At: Ticks(rapid.IntRange(0, 3000).Draw(t, "swell from"))}
		swelling.Until = swelling.At + Ticks(rapid.IntRange(0, 3000).Draw(t, "for"))
		f := newFeet(cutRepeats(notes), allOf(notes), FullConsole, anyProfile(t), swelling)
		got, cost := f.solve()
		if plain := f.costOf(got); plain != cost {
			t.Fatalf("search says %d, its treads add up to %d", cost, plain)
		}
		if cheaperFeet(f, nil, cost) {
			t.Fatalf("search finds %d; something is cheaper", cost)
		}
	})
}
