package paint

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/theory"
)

// BlockKey is one key of a block on the bench's small keyboard.
type BlockKey struct {
	Key    int
	Limb   arrange.Limb
	Finger int
	// Then is the finger that silently takes the held key over, 0 for none.
	Then int
	// Glide tells that the finger slides over from the key before.
	Glide bool
}

// BlockKeysOf returns the keys of a block played by one limb with no fingers
// named: what the alternatives show.
func BlockKeysOf(voices []theory.Pitch, limb arrange.Limb) []BlockKey {
	out := make([]BlockKey, 0, len(voices))
	for _, v := range voices {
		if v.IsValid() {
			out = append(out, BlockKey{Key: v.Key(), Limb: limb})
		}
	}
	return out
}

// PaintBlockKeys paints a small keyboard with a block's keys lit in a
// rectangle. Fingers are written where the keys are wide enough.
func PaintBlockKeys(c *Canvas, r Rect, keys []BlockKey, th *Theme) {
	compass := blockCompass(keys)
	placed := manualKeys(r, compass)
	lit := map[int]BlockKey{}
	for _, k := range keys {
		lit[k.Key] = k
	}
	for _, sharp := range []bool{false, true} {
		for i := range placed {
			if k := &placed[i]; k.sharp == sharp {
				paintBlockKey(c, k, lit, th)
			}
		}
	}
}

// paintBlockKey paints one key, lit or not.
func paintBlockKey(c *Canvas, k *consoleKey, lit map[int]BlockKey, th *Theme) {
	b, on := lit[k.key]
	if !on {
		paintKey(c, k, false, th)
		return
	}
	r := k.Rect
	if !k.sharp {
		r = Rect{r.X + 1, r.Y, r.W - 1, r.H}
	}
	c.Limb(r, b.Limb, keyRadius, th)
	if k.sharp {
		c.StrokeRound(r, keyRadius, 1, th.BlackKey)
	}
	if b.Finger > 0 && r.W >= 6.5 {
		text := fingerText(b.Finger, b.Then, b.Glide)
		size := min(SizeSmall, r.W*1.15, (r.W-1)/TextWidth(text, SemiBold, 1)*1.6)
		c.FillRect(Rect{r.X + 1, r.Bottom() - size - 4, r.W - 2, size + 3}, th.Limb(b.Limb))
		c.Text(r.CentreX(), r.Bottom()-5, text, Style{SemiBold, size, th.OnLimb}, AlignCentre)
	}
}

// blockCompass returns the white-key range that shows all keys, at least an
// octave and a half, from a C or an F below.
func blockCompass(keys []BlockKey) project.Compass {
	low, high := 60, 76
	for i, k := range keys {
		if i == 0 {
			low, high = k.Key, k.Key
		}
		low, high = min(low, k.Key), max(high, k.Key)
	}
	for mod(low, 12) != 0 && mod(low, 12) != 5 {
		low--
	}
	high = max(high, low+16)
	for mod(high, 12) != 4 && mod(high, 12) != 11 {
		high++
	}
	return project.Compass{Lowest: max(0, low), Highest: min(127, high)}
}
