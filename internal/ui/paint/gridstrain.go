package paint

import "math"

// strainLevel is the load above which the strain line changes its colour; the
// caution about strain counts from there.
const strainLevel = 0.75

// strain draws how tiring each bar is for the hand that tires more, as steps
// over the lanes: at rest no line, at the limit of the hand a line as high as
// the gap, thick and in the colour of a caution.
func (p *gridPainter) strain(s *System) {
	for i := s.FirstBar; i < min(s.EndBar, len(p.l.strain)); i++ {
		v := math.Min(p.l.strain[i], 1)
		if v <= 0.02 {
			continue
		}
		b, colour, thick := &p.l.Bars[i], p.th.Muted, 1.0
		if v > strainLevel {
			colour, thick = p.th.Caution, 2
		}
		p.HLine(b.X+1, b.Right()-1, s.Lanes.Y-v*(lanesGap-1), thick, colour)
	}
}
