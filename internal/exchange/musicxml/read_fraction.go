package musicxml

import (
	"math"
	"strings"

	"organbook/internal/project"
)

// fraction is an exact number of quarter notes, always in lowest terms with a
// denominator above zero (the zero value counts as 0). Files mix divisions of
// 768, decimals and tuplets of 11, so ticks would be too coarse to add up in.
//
// Results whose terms grow past maxTerm are rounded to ticks: no score's own
// arithmetic comes near it, and a hostile one stays within 64 bits.
type fraction struct{ num, den int64 }

const (
	maxTerm     = 1 << 30
	tickDivisor = int64(project.Quarter)
	// maxQuarters bounds every length and position inside a bar.
	maxQuarters = 4 * int64(project.MaxBarLength/project.Whole)
)

func whole(n int64) fraction { return fraction{n, 1} }

// newFraction returns num/den in lowest terms; den must not be zero.
func newFraction(num, den int64) fraction {
	if den < 0 {
		num, den = -num, -den
	}
	if g := gcd(num, den); g > 1 {
		num, den = num/g, den/g
	}
	f := fraction{num, den}
	if den > maxTerm || num > maxTerm || num < -maxTerm {
		return f.rounded()
	}
	return f
}

// rounded returns the value at the nearest tick, within ±1024 quarters.
func (f fraction) rounded() fraction {
	v := math.Round(f.float() * float64(tickDivisor))
	limit := float64(4 * maxQuarters * tickDivisor)
	n := int64(max(-limit, min(limit, v)))
	g := max(gcd(n, tickDivisor), 1)
	return fraction{n / g, tickDivisor / g}
}

func gcd(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (f fraction) denominator() int64 { return max(f.den, 1) }

func (f fraction) float() float64 { return float64(f.num) / float64(f.denominator()) }

func (f fraction) plus(g fraction) fraction {
	return newFraction(f.num*g.denominator()+g.num*f.denominator(), f.denominator()*g.denominator())
}

func (f fraction) minus(g fraction) fraction { return f.plus(fraction{-g.num, g.den}) }

func (f fraction) times(g fraction) fraction {
	return newFraction(f.num*g.num, f.denominator()*g.denominator())
}

// over returns f/g; g must not be zero.
func (f fraction) over(g fraction) fraction {
	return newFraction(f.num*g.denominator(), f.denominator()*g.num)
}

// compare returns -1, 0 or 1 as f is below, at or above g.
func (f fraction) compare(g fraction) int {
	a, b := f.num*g.denominator(), g.num*f.denominator()
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func (f fraction) less(g fraction) bool { return f.compare(g) < 0 }
func (f fraction) sign() int            { return f.compare(fraction{}) }
func (f fraction) isWhole() bool        { return f.denominator() == 1 }

func later(f, g fraction) fraction {
	if f.less(g) {
		return g
	}
	return f
}

func earlier(f, g fraction) fraction {
	if g.less(f) {
		return g
	}
	return f
}

// ticks returns the nearest tick; halves round up.
func (f fraction) ticks() project.Ticks {
	d := f.denominator()
	n := 2*f.num*tickDivisor + d
	q := n / (2 * d)
	if n%(2*d) < 0 {
		q--
	}
	return project.Ticks(q)
}

func fromTicks(t project.Ticks) fraction { return newFraction(int64(t), tickDivisor) }

// maxDigits keeps a parsed number, scaled by its decimals, within 64 bits.
const maxDigits = 9

// parseFraction reads a decimal number such as "480", "0.5", "1," or "-2".
// Further decimals are dropped, and numbers past maxTerm are refused.
func parseFraction(s string) (fraction, bool) {
	s = strings.TrimSpace(s)
	negative := strings.HasPrefix(s, "-")
	s = strings.TrimLeft(s, "+-")
	before, after, _ := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
	after = after[:min(len(after), maxDigits)]
	if before == "" && after == "" {
		return fraction{}, false
	}
	num, den := int64(0), int64(1)
	for _, r := range before {
		if num = num*10 + int64(r-'0'); r < '0' || r > '9' || num > maxTerm {
			return fraction{}, false
		}
	}
	for _, r := range after {
		if r < '0' || r > '9' {
			return fraction{}, false
		}
		num, den = num*10+int64(r-'0'), den*10
	}
	if negative {
		num = -num
	}
	return newFraction(num, den), true
}
