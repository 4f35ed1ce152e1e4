package reach

import "slices"

// Stretched is how far keys of one hand are apart.
func Stretched(keys ...int) Millimetres {
	if len(keys) == 0 {
		return 0
	}
	return Distance(slices.Min(keys), slices.Max(keys))
}

// SpanCost weighs a block for one hand without fingering what is around it:
// 0 is comfortable, 100 is at the limit of what the hand reaches, more is
// beyond. It is cheap enough to be asked about every candidate. The order of
// the keys does not matter.
func SpanCost(p Profile, hand Limb, keys ...int) int {
	if len(keys) < 2 {
		return 0
	}
	if len(keys) > fingers {
		return 200
	}
	s := p.Hands[hand]
	low, high := slices.Min(keys), slices.Max(keys)
	w := Millimetres(middleOf(high)-middleOf(low)) / 100
	switch {
	case w <= s.Comfortable:
		return 0
	case w <= s.Maximal:
		return int(100 * (w - s.Comfortable) / max(1, s.Maximal-s.Comfortable))
	}
	return 200 + int(w-s.Maximal)
}

// StretchText says how far keys open a hand and how near its limits that is.
func StretchText(p Profile, hand Limb, keys ...int) string {
	return stretchText(p.Hands[hand], hand, keys)
}
