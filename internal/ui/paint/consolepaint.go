package paint

import (
	"image/color"
	"math"
	"strings"

	"organbook/internal/arrange"
	"organbook/internal/reach"
)

// keyRadius rounds a key's corners.
const keyRadius = 2.0

// LitKey is a key that sounds, or that a block would use.
type LitKey struct {
	Division arrange.Division
	Key      int
	Limb     arrange.Limb
	// Finger is 1 (thumb) to 5, 0 for none.
	Finger int
	// Part is the part of a foot that presses a pedal.
	Part reach.Part
	// Ghost draws the outline only: the key of the selected block while
	// something else sounds.
	Ghost bool
}

// PaintConsole paints the keyboards at rest, on ground.
func PaintConsole(c *Canvas, l *ConsoleLayout, th *Theme, ground color.NRGBA) {
	c.Clear(ground)
	for d := range l.keys {
		for _, sharp := range []bool{false, true} {
			for i := range l.keys[d] {
				if k := &l.keys[d][i]; k.sharp == sharp {
					paintKey(c, k, arrange.Division(d) == arrange.Pedal, th)
				}
			}
		}
	}
	paintOctaves(c, l, th)
	paintDivisions(c, l, th)
}

// PaintLit draws lit keys over a console at rest: the limb's colour and
// pattern, its letter, and the finger.
func PaintLit(c *Canvas, l *ConsoleLayout, th *Theme, lit []LitKey) {
	for _, sharp := range []bool{false, true} {
		for _, k := range lit {
			if key := l.find(k.Division, k.Key); key != nil && key.sharp == sharp {
				paintLitKey(c, l, key, k, th)
			}
		}
	}
}

func paintKey(c *Canvas, k *consoleKey, pedal bool, th *Theme) {
	switch {
	case k.sharp && pedal:
		c.RoundRect(k.Rect, keyRadius, th.PedalSharp)
	case k.sharp:
		c.RoundRect(k.Rect, keyRadius, th.BlackKey)
	default:
		r := whole(k, pedal)
		c.RoundRect(r, keyRadius, th.WhiteKey)
		c.StrokeRound(r, keyRadius, 1, th.KeyLine)
	}
}

// whole returns a white key with its outline, which manual keys share with
// their neighbours.
func whole(k *consoleKey, pedal bool) Rect {
	r := k.Rect
	if !pedal {
		r.W++
	}
	return r
}

func paintLitKey(c *Canvas, l *ConsoleLayout, key *consoleKey, k LitKey, th *Theme) {
	r := key.Rect
	if !key.sharp {
		r = whole(key, k.Division == arrange.Pedal)
		r = Rect{r.X + 1, r.Y, r.W - 2, r.H}
	}
	if k.Ghost {
		c.StrokeRound(r, keyRadius, 2.5, th.Limb(k.Limb))
	} else {
		c.Limb(r, k.Limb, keyRadius, th)
	}
	switch {
	case k.Division == arrange.Pedal: // pedals stand free
	case key.sharp:
		c.StrokeRound(r, keyRadius, 1, th.BlackKey)
	default:
		reblacken(c, l, key, k, th)
	}
	if !k.Ghost {
		paintKeyMarks(c, r, key.sharp, k, th)
	}
}

// reblacken draws the black keys beside a lit white key again, which its
// colour has covered.
func reblacken(c *Canvas, l *ConsoleLayout, key *consoleKey, k LitKey, th *Theme) {
	for _, side := range []int{-1, 1} {
		if n := l.find(k.Division, key.key+side); n != nil && n.sharp {
			paintKey(c, n, false, th)
		}
	}
}

// limbLetters are what is written on a key: hands by their letter, feet by
// letter and side.
var limbLetters = [...]string{"R", "L", "LF", "RF"}

// paintKeyMarks writes finger and limb at the front of a lit key: below each
// other where the front of the key is deep enough, beside each other if not.
func paintKeyMarks(c *Canvas, r Rect, sharp bool, k LitKey, th *Theme) {
	lines := []string{limbLetters[k.Limb]}
	if k.Finger > 0 {
		lines = []string{itoa(k.Finger), limbLetters[k.Limb]}
	}
	if k.Part != reach.NoPart { // "t" or "h" over the foot's letters
		lines = []string{k.Part.String()[:1], limbLetters[k.Limb]}
	}
	size := math.Min(SizeSmall, math.Max(7, r.W*0.78))
	if front := r.H * (1 - blackDeep/manualDeep); !sharp && k.Division != arrange.Pedal && len(lines)*int(size*1.08) > int(front-3) {
		lines = []string{strings.Join(lines, "")}
		size = math.Min(size, (r.W-3)/TextWidth(lines[0], SemiBold, 1))
	}
	step := size * 1.08
	plate := Rect{r.X + 1, r.Bottom() - step*float64(len(lines)) - 3, r.W - 2, step*float64(len(lines)) + 2}
	c.FillRect(plate, th.Limb(k.Limb))
	for i, s := range lines {
		y := plate.Y + step*(float64(i)+0.5) + size*capHeight/2 + 1
		c.Text(r.CentreX(), y, s, Style{SemiBold, size, th.OnLimb}, AlignCentre)
	}
}

// paintOctaves names every C at the front of its key.
func paintOctaves(c *Canvas, l *ConsoleLayout, th *Theme) {
	for d := range l.keys {
		for i := range l.keys[d] {
			k := &l.keys[d][i]
			if k.key%12 != 0 {
				continue
			}
			size := math.Min(9, k.W*0.5)
			name := "C" + itoa(k.key/12-1)
			c.Text(k.CentreX()-0.5, k.Bottom()-4, name, Style{Regular, size, th.OnWhiteKey}, AlignCentre)
		}
	}
}

// paintDivisions names the keyboards at their left.
func paintDivisions(c *Canvas, l *ConsoleLayout, th *Theme) {
	if l.Console.Split > 0 {
		st := Style{Regular, SizeSmall, th.Muted}
		c.Text(l.Lower.X, l.Lower.Y-4, "lower", st, AlignLeft)
		c.Text(l.Upper.X+2, l.Upper.Y-4, "upper", st, AlignLeft)
		return
	}
	for d, r := range []Rect{l.Upper, l.Lower, l.Pedal} {
		if !r.Empty() {
			c.Text(r.X-8, r.CentreY()+4, arrange.Division(d).String(), Style{Regular, SizeSmall, th.Muted}, AlignRight)
		}
	}
}
