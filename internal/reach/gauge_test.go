package reach

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestGaugeAgreesWithTheReport holds that the gauge calls a chord out of reach
// exactly when the report finds it unplayable.
func TestGaugeAgreesWithTheReport(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		keys := rapid.SliceOfNDistinct(rapid.IntRange(55, 75), 1, 6, rapid.ID[int]).Draw(t, "keys")
		hand := Limb(rapid.IntRange(0, 1).Draw(t, "hand"))
		p := rapid.SampledFrom(Profiles()).Draw(t, "profile")
		var notes []Note
		for _, k := range keys {
			notes = append(notes, struck(hand, Upper, k, 0, 1))
		}
		r := Check(Piece{Console: FullConsole, Profile: p, Notes: notes})
		if got := NewGauge(p).Cost(hand, keys...) >= OutOfReach; got == r.Playable() {
			slices.Sort(keys)
			t.Fatalf("%v for the %v of %s hands: out of reach is %v, found %q", keys, hand, p.Name, got, found(r))
		}
	})
}

func BenchmarkGauge(b *testing.B) {
	g := NewGauge(DefaultProfile())
	for b.Loop() {
		g.Cost(RightHand, 67, 64, 62, 58)
	}
}
