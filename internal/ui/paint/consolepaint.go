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
	// Then is the finger that silently takes the held key over, 0 for none.
	Then int
	// Glide tells that finger or foot slides over from the key before.
	Glide bool
	// Part is the part of a foot that presses a pedal, Cross how it passes the
	// other foot.
	Part  reach.Part
	Cross reach.Cross
	// Ghost draws the outline only: a key of the block that is looked at, or,
	// with finger and limb, of the one that comes next.
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
	paintSplit(c, l, th)
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
	paintSplit(c, l, th)
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

// ghostLine is the thickness of the outline of a key that is not down.
const ghostLine = 2.5

func paintLitKey(c *Canvas, l *ConsoleLayout, key *consoleKey, k LitKey, th *Theme) {
	r := key.Rect
	if !key.sharp {
		r = whole(key, k.Division == arrange.Pedal)
		r = Rect{r.X + 1, r.Y, r.W - 2, r.H}
	}
	if k.Ghost {
		c.StrokeRound(r, keyRadius, ghostLine, th.Limb(k.Limb))
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
	if !k.Ghost || k.Finger > 0 {
		paintKeyMarks(c, l, r, key.sharp, k, th)
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
func paintKeyMarks(c *Canvas, l *ConsoleLayout, r Rect, sharp bool, k LitKey, th *Theme) {
	lines := l.keyMarks(k)
	size := math.Min(SizeSmall, math.Max(7, r.W*0.78))
	if front := r.H * (1 - sharpDepth); !sharp && k.Division != arrange.Pedal && len(lines)*int(size*1.08) > int(front-3) {
		if len(lines[0]) > 1 { // the pattern tells the limb
			lines = lines[:1]
		}
		lines = []string{strings.Join(lines, "")}
		size = math.Min(size, (r.W-3)/TextWidth(lines[0], SemiBold, 1))
	}
	for _, s := range lines {
		size = math.Min(size, math.Max(6, (r.W-1)/TextWidth(s, SemiBold, 1)))
	}
	step := size * 1.08
	plate := Rect{r.X + 1, r.Bottom() - step*float64(len(lines)) - 3, r.W - 2, step*float64(len(lines)) + 2}
	face, ink := th.Limb(k.Limb), th.OnLimb
	if k.Ghost { // on the key itself, inside the outline
		plate = Rect{plate.X + 1, plate.Y - 1, plate.W - 2, plate.H - 1}
		face, ink = th.WhiteKey, th.BlackKey
		if sharp {
			face, ink = ink, face
		}
	}
	c.FillRect(plate, face)
	for i, s := range lines {
		y := plate.Y + step*(float64(i)+0.5) + size*capHeight/2 + 1
		c.Text(r.CentreX(), y, s, Style{SemiBold, size, ink}, AlignCentre)
	}
}

// keyMarks are the lines written on a lit key: finger or part of the foot, then
// the limb. A finger that is taken over reads "5-4", what slides there has a
// dash before it, and a foot that crosses says where it passes.
func (l *ConsoleLayout) keyMarks(k LitKey) []string {
	limb := limbLetters[k.Limb]
	switch {
	case k.Finger > 0:
		return []string{fingerText(k.Finger, k.Then, k.Glide), limb}
	case k.Part == reach.NoPart:
		return []string{limb}
	}
	part := l.word(k.Part.String()[:1])
	if k.Glide {
		part = "–" + part
	}
	switch k.Cross {
	case reach.InFront:
		return []string{l.word("front"), part, limb}
	case reach.Behind:
		return []string{l.word("behind"), part, limb}
	}
	return []string{part, limb}
}

// fingerText writes a finger as fingerings are written.
func fingerText(finger, then int, glide bool) string {
	s := itoa(finger)
	if glide {
		s = "–" + s
	}
	if then > 0 {
		s += "-" + itoa(then)
	}
	return s
}

// splitLine is the thickness of the line at a split and of its casing, which
// sets it apart from white keys as from black ones.
const splitLine, splitCasing = 2.0, 1.5

// splitPath returns the line between the two divisions of one manual, from above
// the keys to their front: along the black key at the split, if there is one, and
// between the white ones. It is empty where nothing is split.
func (l *ConsoleLayout) splitPath() []Rect {
	low, high := l.find(arrange.Lower, l.Console.Split-1), l.find(arrange.Upper, l.Console.Split)
	if l.Console.Split <= 0 || low == nil || high == nil {
		return nil
	}
	top, back, front := l.Upper.Y-splitLabel, l.Upper.Y, l.Upper.Bottom()
	behind, crack := high.X, high.X
	switch {
	case low.sharp:
		behind, back = low.Right(), low.Bottom()
	case high.sharp:
		crack, back = low.Right(), high.Bottom()
	}
	line := func(x, y0, y1 float64) Rect { return Rect{x - splitLine/2, y0, splitLine, y1 - y0} }
	path := []Rect{line(behind, top, back), line(crack, back, front)}
	if behind != crack {
		path = append(path, Rect{math.Min(behind, crack) - splitLine/2, back - splitLine/2, math.Abs(behind-crack) + splitLine, splitLine})
	}
	return path
}

// paintSplit draws the line between two divisions that share a manual.
func paintSplit(c *Canvas, l *ConsoleLayout, th *Theme) {
	path := l.splitPath()
	for _, r := range path {
		c.FillRect(Rect{r.X - splitCasing, r.Y, r.W + 2*splitCasing, r.H}, th.BlackKey)
	}
	for _, r := range path {
		c.FillRect(r, th.Accent)
	}
}

// paintOctaves names every C at the front of its key, and the ends of a compass.
func paintOctaves(c *Canvas, l *ConsoleLayout, th *Theme) {
	for d := range l.keys {
		for i := range l.keys[d] {
			k := &l.keys[d][i]
			if k.key%12 != 0 && (k.sharp || !l.atEnd(arrange.Division(d), k.key)) {
				continue
			}
			size := math.Min(9, k.W*0.5)
			name := "C D EF G A B"[k.key%12:k.key%12+1] + itoa(k.key/12-1)
			c.Text(k.CentreX()-0.5, k.Bottom()-4, name, Style{Regular, size, th.OnWhiteKey}, AlignCentre)
		}
	}
}

// atEnd reports whether a key is the lowest or highest of its keyboard; where two
// divisions share one, neither ends at the split.
func (l *ConsoleLayout) atEnd(d arrange.Division, key int) bool {
	keys := l.keys[d]
	lowest, highest := key == keys[0].key, key == keys[len(keys)-1].key
	if l.Console.Split > 0 && d != arrange.Pedal {
		lowest, highest = lowest && d == arrange.Lower, highest && d == arrange.Upper
	}
	return lowest || highest
}

// word says a word in the language of the picture's reader.
func (l *ConsoleLayout) word(s string) string {
	if l.Words == nil {
		return s
	}
	return l.Words(s)
}

// paintDivisions names the keyboards at their left.
func paintDivisions(c *Canvas, l *ConsoleLayout, th *Theme) {
	if l.Console.Split > 0 {
		st := Style{Regular, SizeSmall, th.Muted}
		c.Text(l.Lower.X, l.Lower.Y-4, l.word("lower"), st, AlignLeft)
		c.Text(l.Upper.X+8, l.Upper.Y-4, l.word("upper"), st, AlignLeft)
		return
	}
	for d, r := range []Rect{l.Upper, l.Lower, l.Pedal} {
		if !r.Empty() {
			c.Text(r.X-8, r.CentreY()+4, l.word(arrange.Division(d).String()), Style{Regular, SizeSmall, th.Muted}, AlignRight)
		}
	}
}
