package reach

import (
	"slices"

	"organbook/internal/phrase"
)

// Stretched is how far keys of one hand are apart.
func Stretched(keys ...int) Millimetres {
	if len(keys) == 0 {
		return 0
	}
	return Distance(slices.Min(keys), slices.Max(keys))
}

// Gauge weighs blocks for the hands of a player without fingering what is
// around them. It is cheap enough to be asked about every candidate.
type Gauge struct {
	profile Profile
	spans   [2][6][6]span
}

// NewGauge returns the gauge of a player.
func NewGauge(p Profile) *Gauge {
	return &Gauge{p, [2][6][6]span{spansOf(p.Hands[RightHand]), spansOf(p.Hands[LeftHand])}}
}

// Free reports whether a limb of the player can play.
func (g *Gauge) Free(limb Limb) bool { return g.profile.free(limb) }

// The costs of a gauge.
const (
	// AtLimit is the cost of what a hand just reaches.
	AtLimit = 100
	// OutOfReach is the least cost of what it does not.
	OutOfReach = 200
)

// Cost weighs keys for one hand: 0 is comfortable, AtLimit what the hand just
// reaches, OutOfReach and more what is too wide for it, more keys than it has
// fingers, or a shape with a gap that no fingers span. The order of the keys
// does not matter.
func (g *Gauge) Cost(hand Limb, keys ...int) int {
	cost := SpanCost(g.profile, hand, keys...)
	if cost < OutOfReach && len(keys) > 2 && !g.fits(hand, keys) {
		return OutOfReach
	}
	return cost
}

// easyGap is the widest interval between two neighbouring keys that any two
// fingers span, in semitones.
const easyGap = 4

// fits reports whether some fingers take the keys, each two neighbours within
// what they span.
func (g *Gauge) fits(hand Limb, keys []int) bool {
	var ordered [fingers]int
	n := copy(ordered[:], keys)
	slices.Sort(ordered[:n])
	widest := 0
	for k := 1; k < n; k++ {
		widest = max(widest, ordered[k]-ordered[k-1])
	}
	if widest <= easyGap {
		return true
	}
	for _, grip := range plainGrips[n] {
		if g.spanned(hand, ordered[:n], grip) {
			return true
		}
	}
	return false
}

// spanned reports whether a grip takes ascending keys.
func (g *Gauge) spanned(hand Limb, keys []int, grip grip) bool {
	n := len(keys)
	for k := 1; k < n; k++ {
		size := keys[k] - keys[k-1]
		if hand == LeftHand { // fingers ascend from the little finger's side
			size = keys[n-k] - keys[n-k-1]
		}
		s := &g.spans[hand][grip[k-1]][grip[k]]
		if size > s.maxPrac || size < s.minPrac {
			return false
		}
	}
	return true
}

// SpanCost weighs keys for one hand by its stretch alone; see Gauge.Cost.
func SpanCost(p Profile, hand Limb, keys ...int) int {
	if len(keys) < 2 {
		return 0
	}
	if len(keys) > fingers {
		return OutOfReach
	}
	s := p.Hands[hand]
	low, high := slices.Min(keys), slices.Max(keys)
	w := Millimetres(middleOf(high)-middleOf(low)) / 100
	switch {
	case w <= s.Comfortable:
		return 0
	case w <= s.Maximal:
		return int(AtLimit * (w - s.Comfortable) / max(1, s.Maximal-s.Comfortable))
	}
	return OutOfReach + int(w-s.Maximal)
}

// StretchText says how far keys open a hand and how near its limits that is.
func StretchText(p Profile, hand Limb, keys ...int) phrase.Phrase {
	return stretchText(p.Hands[hand], hand, keys)
}
