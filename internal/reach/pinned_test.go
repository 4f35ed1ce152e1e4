package reach

import (
	"fmt"
	"hash/fnv"
	"math/rand"
	"testing"
)

// TestFingeringsStayAsTheyAre pins every mark and finding of a few hundred
// pieces. A change of the search for the sake of speed must not change it; a
// change of rules or weights will, and then the new sum is written here.
func TestFingeringsStayAsTheyAre(t *testing.T) {
	const want = "3692759dbd3140c6"
	sum := fnv.New64a()
	for seed := range int64(400) {
		r := Check(anyPiece(rand.New(rand.NewSource(seed))))
		fmt.Fprint(sum, r.Marks, r.Care)
		for _, f := range r.Findings {
			fmt.Fprint(sum, f.At, f.Until, f.Count, f.Limb, f.Kind, f.Severity, f.Text.String(), f.Notes)
		}
	}
	if got := fmt.Sprintf("%016x", sum.Sum64()); got != want {
		t.Errorf("marks and findings add up to %s, not %s", got, want)
	}
}

// anyPiece makes a piece of lines, chords, held keys and rests for both hands
// and the feet.
func anyPiece(rng *rand.Rand) Piece {
	p := Piece{Console: FullConsole, Profile: Profiles()[rng.Intn(3)], Tempo: 120}
	p.Profile.Touch, p.Profile.Feet = Touch(rng.Intn(2)), Feet(rng.Intn(2))
	for _, limb := range []Limb{RightHand, LeftHand, LeftFoot} {
		var stream []Note
		at, centre, thickness := Ticks(0), 55+rng.Intn(20), 1+rng.Intn(5)
		for range 20 {
			if rng.Intn(6) == 0 {
				thickness = 1 + rng.Intn(5)
			}
			centre = max(45, min(80, centre+rng.Intn(11)-5))
			length := Ticks(2520 << rng.Intn(3))
			for _, k := range rng.Perm(14)[:thickness] {
				stream = append(stream, anyNote(rng, limb, centre+k-7, at, length))
			}
			at += length + Ticks(rng.Intn(8)/7)*20160
		}
		p.Notes = append(p.Notes, cutRepeats(stream)...)
	}
	return p
}

func anyNote(rng *rand.Rand, limb Limb, key int, at, length Ticks) Note {
	until := at + length*Ticks(1+rng.Intn(5)/4)
	n := Note{At: at, Until: until, Start: seconds(at), End: seconds(until), Key: key, Limb: limb}
	switch {
	case limb == LeftFoot:
		n.Division, n.Key = Pedal, 36+key%25
	case rng.Intn(40) == 0:
		n.Division = Lower
	}
	if limb != LeftFoot && rng.Intn(30) == 0 {
		n.Finger = 1 + rng.Intn(5)
	}
	return n
}
