package paint

import "math"

// strainLevel is the load from which the strain is marked; the caution about
// strain counts from there.
const strainLevel = 0.75

// Sizes of the strain line, in units.
const (
	strainRoom  = lanesGap - 3 // what a bar at the limit of the hand rises to
	strainThick = 1.5
	strainSize  = 8.0 // of its name
)

// strain draws how tiring each bar is for the hand that tires more: a stepped
// line over the lanes, filled to its foot. At rest it lies on the foot; where
// it counts for the caution the line is thick and the steps are hatched.
func (p *gridPainter) strain(s *System) {
	end := min(s.EndBar, len(p.l.strain))
	if s.FirstBar >= end {
		return
	}
	foot := s.Lanes.Y - 2
	p.Text(s.Lanes.X-5, foot, p.l.Options.word("strain"), Style{Regular, strainSize, p.th.Muted}, AlignRight)
	before := foot
	for i := s.FirstBar; i < end; i++ {
		b, v := &p.l.Bars[i], math.Min(p.l.strain[i], 1)
		top := foot - v*strainRoom
		p.strainStep(Rect{b.X, top, b.W, foot - top}, v >= strainLevel)
		if i > s.FirstBar {
			p.VLine(b.X, math.Min(before, top), math.Max(before, top), strainThick, p.th.Muted)
		}
		before = top
	}
}

// strainStep draws one bar's step.
func (p *gridPainter) strainStep(r Rect, high bool) {
	if !high {
		p.FillRect(r, withAlpha(p.th.Muted, 0.22))
		p.HLine(r.X, r.Right(), r.Y, strainThick, p.th.Muted)
		return
	}
	p.FillRect(r, withAlpha(p.th.Caution, 0.3))
	p.Hatch(r, 5, 1.5, p.th.Caution)
	p.HLine(r.X, r.Right(), r.Y, 2*strainThick, p.th.Caution)
}
