package musicxml

import (
	"strings"

	"organbook/internal/theory"
)

// The text of a kind is what players see. Where it spells out the kind's own
// chord and more, the file has left the rest to it: C7b9 as a "dominant" without
// degrees. Where it quarrels with the kind, it is no chord symbol after all, such
// as the 7 beside a triangle, and the kind counts.

// asPrinted returns the chord that the text spells out where that is c, which
// kind and degrees make, said in full.
func (h *harmonyItem) asPrinted(root theory.Name, c theory.Chord) theory.Chord {
	said, ok := fromText(root, h.text)
	ok = ok && strings.TrimSpace(h.text) != "" && !said.IsNone()
	switch said = said.WithoutBass(); {
	case ok && len(h.degrees) == 0 && saysMore(said, c), ok && len(h.degrees) > 0 && otherSeventh(said, c):
		return said
	}
	return c
}

// saysMore reports whether a chord has all that c has, but perhaps another fifth,
// or a suspension in place of the third.
func saysMore(said, c theory.Chord) bool {
	for alter := -2; alter <= 1; alter++ {
		for _, number := range []int{2, 4, 6, 7, 9, 11, 13} {
			if c.Has(number, alter) && !said.Has(number, alter) {
				return false
			}
		}
		suspended := !said.HasAny(3) && (said.Has(4, 0) || said.Has(2, 0))
		if c.Has(3, alter) && !said.Has(3, alter) && !suspended {
			return false
		}
		if alter != 0 && c.Has(5, alter) && !said.Has(5, alter) {
			return false
		}
	}
	return c.HasAny(3) || !said.HasAny(3)
}

// otherSeventh reports whether two chords differ in the form of their seventh
// only: files count it from the major chord, or from no chord, where the standard counts
// it from the dominant.
func otherSeventh(a, b theory.Chord) bool {
	without := func(c theory.Chord) (set theory.PCSet, sevenths int) {
		set = c.PCSet()
		for alter := -2; alter <= 0; alter++ {
			if c.Has(7, alter) {
				set, sevenths = set.Without(c.Root().PC()+11+alter), sevenths+1
			}
		}
		return set, sevenths
	}
	left, n := without(a)
	right, m := without(b)
	return left == right && n == 1 && m == 1
}
