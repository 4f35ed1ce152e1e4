package perform

import (
	"math"
	"sort"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// Swing bends time inside a quarter beat: the first half of the beat takes
// the part Chart.Swing of it, the second half the rest, both evenly. So an
// off-beat eighth comes late, sixteenths share their half, and beats and bars
// keep their length.
//
// A beat that a limb divides otherwise (triplets, quintuplets and so on)
// already has its own lilt and is played as written by that limb, while other
// limbs swing in it. Meters counted in eighths or less are not swung.

// finest is the shortest division by twos that the note lengths have: a beat
// whose notes all lie on it is swung.
const finest = project.Quarter / 32

// beat is a quarter beat of the page, by its written start, in one limb.
type beat struct {
	start project.Ticks
	limb  arrange.Limb
}

// page is the written time axis: where bars start and how their beats swing.
type page struct {
	bars   []project.Bar
	starts []project.Ticks // one more than bars: the last is the end
	// middle is where the middle of a beat is played, counted from its start.
	middle project.Ticks
	// straight holds the beats that a limb divides otherwise than by twos.
	straight map[beat]bool
}

func newPage(c *project.Chart, notes []arrange.Note) page {
	p := page{bars: c.Bars, starts: make([]project.Ticks, len(c.Bars)+1), straight: map[beat]bool{}}
	for i, b := range c.Bars {
		p.starts[i+1] = p.starts[i] + b.Length
	}
	p.middle = swingMiddle(c.Swing)
	for _, n := range notes {
		p.markStraight(n.Start, n.Limb)
		p.markStraight(n.Start+n.Duration, n.Limb)
	}
	return p
}

// swingMiddle returns the played length of a beat's first half; a swing that
// no chart may have counts as the nearest it may have.
func swingMiddle(swing float64) project.Ticks {
	if !(swing > 0.5) {
		swing = 0.5
	}
	return project.Ticks(math.Round(min(swing, 0.8) * float64(project.Quarter)))
}

func (p *page) markStraight(t project.Ticks, limb arrange.Limb) {
	if start, ok := p.beatAt(t); ok && (t-start)%finest != 0 {
		p.straight[beat{start, limb}] = true
	}
}

// barAt returns the index of the bar that contains t; times outside the chart
// belong to the first or last bar.
func (p *page) barAt(t project.Ticks) int {
	i := sort.Search(len(p.bars)-1, func(i int) bool { return p.starts[i+1] > t })
	return i
}

// beatAt returns the start of the whole quarter beat around t in a meter that
// swings. The rest of a bar that holds no whole beat has none.
func (p *page) beatAt(t project.Ticks) (start project.Ticks, ok bool) {
	i := p.barAt(t)
	b := &p.bars[i]
	if b.Meter.Unit > 4 || t < p.starts[i] || t >= p.starts[i+1] {
		return 0, false
	}
	first := p.starts[i] + upbeat(b)
	if t < first {
		return 0, false
	}
	start = first + (t-first)/project.Quarter*project.Quarter
	return start, start+project.Quarter <= p.starts[i+1]
}

// upbeat returns how much of a bar comes before its first whole quarter beat.
// Pickups and second halves of split bars are counted from their end.
func upbeat(b *project.Bar) project.Ticks {
	if b.Unnumbered {
		return b.Length % project.Quarter
	}
	return 0
}

// swingBeat returns the beat around t when a limb swings in it.
func (p *page) swingBeat(t project.Ticks, limb arrange.Limb) (start project.Ticks, ok bool) {
	start, ok = p.beatAt(t)
	return start, ok && !p.straight[beat{start, limb}]
}

// bend returns where a written position is played, on the page's own axis.
func (p *page) bend(t project.Ticks, limb arrange.Limb) project.Ticks {
	start, ok := p.swingBeat(t, limb)
	if !ok {
		return t
	}
	const half = project.Quarter / 2
	if d := t - start; d >= half {
		return start + p.middle + (d-half)*(project.Quarter-p.middle)/half
	}
	return start + (t-start)*p.middle/half
}

// unbend is the inverse of bend, to the nearest tick below.
func (p *page) unbend(t project.Ticks, limb arrange.Limb) project.Ticks {
	start, ok := p.swingBeat(t, limb)
	if !ok {
		return t
	}
	const half = project.Quarter / 2
	if d := t - start; d >= p.middle {
		return start + half + (d-p.middle)*half/(project.Quarter-p.middle)
	}
	return start + (t-start)*half/p.middle
}
