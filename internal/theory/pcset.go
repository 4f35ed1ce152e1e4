package theory

import "math/bits"

// PCSet is a set of pitch classes, one bit each, C lowest. The zero value is
// the empty set.
type PCSet uint16

// NewPCSet returns the set of the given classes, each reduced to 0 to 11.
func NewPCSet(pcs ...int) PCSet {
	var s PCSet
	for _, pc := range pcs {
		s = s.With(pc)
	}
	return s
}

// Has reports whether the pitch class of pc is in the set.
func (s PCSet) Has(pc int) bool { return s&(1<<mod(pc, 12)) != 0 }

// With returns the set with the pitch class of pc added.
func (s PCSet) With(pc int) PCSet { return s | 1<<mod(pc, 12) }

// Without returns the set with the pitch class of pc removed.
func (s PCSet) Without(pc int) PCSet { return s &^ (1 << mod(pc, 12)) }

// Len returns the number of classes.
func (s PCSet) Len() int { return bits.OnesCount16(uint16(s)) }

// Covers reports whether every class of t is in s.
func (s PCSet) Covers(t PCSet) bool { return t&^s == 0 }

// Transpose returns the set moved up by semitones.
func (s PCSet) Transpose(semitones int) PCSet {
	d := mod(semitones, 12)
	return (s<<d | s>>(12-d)) & 0xfff
}

// Slice returns the classes in ascending order.
func (s PCSet) Slice() []int {
	out := make([]int, 0, s.Len())
	for pc := 0; pc < 12; pc++ {
		if s.Has(pc) {
			out = append(out, pc)
		}
	}
	return out
}
