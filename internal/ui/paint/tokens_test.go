package paint

import (
	"fmt"
	"image/color"
	"math"
	"testing"

	"organbook/internal/arrange"
)

// linear returns the linear light of a colour's channels.
func linear(c color.NRGBA) (out [3]float64) {
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		s := float64(v) / 255
		if s <= 0.04045 {
			out[i] = s / 12.92
		} else {
			out[i] = math.Pow((s+0.055)/1.055, 2.4)
		}
	}
	return out
}

// contrast is the ratio of WCAG 2: (lighter + 0.05) / (darker + 0.05).
func contrast(a, b color.NRGBA) float64 {
	lum := func(c color.NRGBA) float64 {
		l := linear(c)
		return 0.2126*l[0] + 0.7152*l[1] + 0.0722*l[2]
	}
	x, y := lum(a), lum(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

type contrastCase struct {
	what     string
	ink, on  color.NRGBA
	required float64
}

// contrastCases lists every pair that carries text (4.5) or meaning (3).
func contrastCases(t *Theme) (out []contrastCase) {
	add := func(required float64, what string, ink color.NRGBA, grounds ...color.NRGBA) {
		for i, g := range grounds {
			out = append(out, contrastCase{fmt.Sprintf("%s on ground %d", what, i), ink, g, required})
		}
	}
	floors := []color.NRGBA{t.Ground, t.Panel, t.Raised}
	rows := []color.NRGBA{t.Ground, t.HomeRow, t.AwayRow}
	add(4.5, "text", t.Text, floors...)
	add(4.5, "muted text", t.Muted, floors...)
	add(4.5, "letter on lead", t.OnLead, t.Lead)
	add(4.5, "letter on accent", t.OnAccent, t.Accent)
	add(4.5, "letter on white key", t.OnWhiteKey, t.WhiteKey)
	add(3, "accent", t.Accent, floors...)
	add(3, "accent over rows", t.Accent, rows...)
	add(3, "lead over rows", t.Lead, rows...)
	add(3, "bar line", t.BarLine, t.Ground)
	add(3, "home mark", t.Home, t.Ground)
	add(3, "away mark", t.Away, t.Ground)
	add(3, "caution", t.Caution, floors...)
	add(3, "unplayable", t.Unplayable, floors...)
	add(3, "pedal sharp", t.PedalSharp, t.Panel)
	add(3, "black key", t.BlackKey, t.WhiteKey)
	for _, limb := range []arrange.Limb{arrange.RightHand, arrange.LeftHand, arrange.LeftFoot, arrange.RightFoot} {
		add(3, limb.String(), t.Limb(limb), floors...)
		add(4.5, "letter on "+limb.String(), t.OnLimb, t.Limb(limb))
	}
	for _, limb := range []arrange.Limb{arrange.RightHand, arrange.LeftHand} {
		add(3, limb.String()+" voice over rows", t.Limb(limb), rows...)
	}
	return out
}

func TestContrast(t *testing.T) {
	for _, th := range []*Theme{Dark(), Light()} {
		for _, c := range contrastCases(th) {
			if got := contrast(c.ink, c.on); got < c.required {
				t.Errorf("%s theme, %s: contrast %.2f, want %.1f (%06x on %06x)", th.Name, c.what, got, c.required,
					rgb(c.ink), rgb(c.on))
			}
		}
	}
}

func rgb(c color.NRGBA) int { return int(c.R)<<16 | int(c.G)<<8 | int(c.B) }

// deficiencies are the full forms of the three common colour-vision
// deficiencies as matrices over linear light (Machado, Oliveira and Fernandes,
// 2009).
var deficiencies = map[string][9]float64{
	"none":   {1, 0, 0, 0, 1, 0, 0, 0, 1},
	"protan": {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
	"deutan": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
	"tritan": {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900},
}

// lab returns CIE L*a*b* (D65) of a colour seen with a deficiency.
func lab(c color.NRGBA, m [9]float64) (out [3]float64) {
	l := linear(c)
	var s [3]float64
	for i := range s {
		s[i] = clamp01(m[3*i]*l[0] + m[3*i+1]*l[1] + m[3*i+2]*l[2])
	}
	f := func(v float64) float64 {
		if v > 0.008856 {
			return math.Cbrt(v)
		}
		return 7.787*v + 16.0/116
	}
	x := f((0.4124*s[0] + 0.3576*s[1] + 0.1805*s[2]) / 0.95047)
	y := f(0.2126*s[0] + 0.7152*s[1] + 0.0722*s[2])
	z := f((0.0193*s[0] + 0.1192*s[1] + 0.9505*s[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// difference is the distance of two colours in L*a*b*; about 2 is just seen
// side by side.
func difference(a, b color.NRGBA, m [9]float64) float64 {
	p, q := lab(a, m), lab(b, m)
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

// TestColourVision holds what must not be mixed up apart for every kind of
// sight by colour alone; patterns come on top of it.
func TestColourVision(t *testing.T) {
	const clear = 7 // well above a just noticeable difference
	for _, th := range []*Theme{Dark(), Light()} {
		pairs := map[string][2]color.NRGBA{
			"home and away row":        {th.HomeRow, th.AwayRow},
			"right and left hand":      {th.RightHand, th.LeftHand},
			"right hand and left foot": {th.RightHand, th.LeftFoot},
			"left hand and left foot":  {th.LeftHand, th.LeftFoot},
			"the two feet":             {th.LeftFoot, th.RightFoot},
			"caution and unplayable":   {th.Caution, th.Unplayable},
		}
		for name, pair := range pairs {
			for sight, m := range deficiencies {
				if d := difference(pair[0], pair[1], m); d < clear {
					t.Errorf("%s theme, %s sight: %s differ by %.1f, want %d", th.Name, sight, name, d, clear)
				}
			}
		}
	}
}

// TestPatternsTellLimbsApart paints all limbs in one colour: what is left is
// the pattern.
func TestPatternsTellLimbsApart(t *testing.T) {
	grey := *Light()
	grey.LeftHand, grey.LeftFoot, grey.RightFoot = grey.RightHand, grey.RightHand, grey.RightHand
	for _, scale := range []float64{1, 1.5, 2} {
		var seen []*Canvas
		for limb := arrange.RightHand; limb <= arrange.RightFoot; limb++ {
			c := NewPicture(30, laneBar, scale, grey.Ground)
			c.Limb(Rect{0, 0, 30, laneBar}, limb, noteRadius, &grey)
			for i, other := range seen {
				if n := differing(c, other); n < 20 {
					t.Errorf("scale %g: %v and %v differ in %d pixels only", scale, limb, arrange.Limb(i), n)
				}
			}
			seen = append(seen, c)
		}
	}
}

// differing counts the pixels in which two pictures of one size differ.
func differing(a, b *Canvas) (n int) {
	for i := 0; i < len(a.img.Pix); i += 4 {
		if a.img.Pix[i] != b.img.Pix[i] || a.img.Pix[i+1] != b.img.Pix[i+1] || a.img.Pix[i+2] != b.img.Pix[i+2] {
			n++
		}
	}
	return n
}
