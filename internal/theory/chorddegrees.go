package theory

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// degreeSet holds the degrees of a chord, one bit a degree with its
// alteration: five bits (alteration -2 to +2) for each number of
// degreeNumbers. Alterations count from the major and perfect intervals above
// the root, so a minor seventh is 7 with -1.
type degreeSet uint64

// degreeNumbers are the degrees a chord may hold, in the order of its tones.
// 2, 4 and 6 are apart from 9, 11 and 13: sus2 and add9 are different sounds.
var degreeNumbers = [...]int{1, 2, 3, 4, 5, 6, 7, 9, 11, 13}

// degreePlace gives the index in degreeNumbers of each number, -1 for none.
var degreePlace = [14]int8{-1, 0, 1, 2, 3, 4, 5, 6, -1, 7, -1, 8, -1, 9}

// maxDegreeAlter is the furthest a degree may stray from its natural form.
const maxDegreeAlter = 2

// degree is one member of a degreeSet.
type degree struct{ number, alter int }

// degreeBit returns the set of one degree; it is empty when there is no such
// degree. The root cannot be altered.
func degreeBit(number, alter int) degreeSet {
	if number < 1 || number > 13 || degreePlace[number] < 0 || alter < -maxDegreeAlter || alter > maxDegreeAlter {
		return 0
	}
	if number == 1 && alter != 0 {
		return 0
	}
	return 1 << (int(degreePlace[number])*5 + alter + maxDegreeAlter)
}

// degreeMask returns every form of a degree, empty for an unknown number.
func degreeMask(number int) degreeSet {
	if number < 1 || number > 13 || degreePlace[number] < 0 {
		return 0
	}
	return 0b11111 << (int(degreePlace[number]) * 5)
}

func (s degreeSet) has(number, alter int) bool { return s&degreeBit(number, alter) != 0 }

// any reports whether the degree is there in any form.
func (s degreeSet) any(number int) bool { return s&degreeMask(number) != 0 }

func (s degreeSet) len() int { return bits.OnesCount64(uint64(s)) }

// next removes the lowest degree from the set and returns it.
func (s *degreeSet) next() degree {
	b := bits.TrailingZeros64(uint64(*s))
	*s &= *s - 1
	return degree{degreeNumbers[b/5], b%5 - maxDegreeAlter}
}

// list returns the degrees in order.
func (s degreeSet) list() []degree {
	out := make([]degree, 0, s.len())
	for s != 0 {
		out = append(out, s.next())
	}
	return out
}

// interval returns the distance of the degree above the root, within an
// octave.
func (d degree) interval() Interval {
	step := mod(d.number-1, 7)
	return NewInterval(step, letterSemitones[step]+d.alter)
}

// String writes the degree as in "b7" or "#11".
func (d degree) String() string {
	return accidentalText(d.alter) + strconv.Itoa(d.number)
}

func accidentalText(alter int) string {
	if alter < 0 {
		return strings.Repeat("b", -alter)
	}
	return strings.Repeat("#", alter)
}

// degrees reads a list such as "1 b3 5 b7", the form of the chord tables.
func degrees(list string) degreeSet {
	var s degreeSet
	for _, word := range strings.Fields(list) {
		alter, rest := scanAccidentals(word)
		number := 0
		fmt.Sscan(rest, &number)
		bit := degreeBit(number, alter)
		if bit == 0 {
			panic("theory: no such degree: " + word)
		}
		s |= bit
	}
	return s
}
