package arrange

import (
	"math"
	"sort"

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
	limb  Limb
}

// Swung is the written time axis: where bars start and how their beats swing.
// It does not change once it is made.
type Swung struct {
	bars   []project.Bar
	starts []project.Ticks // one more than bars: the last is the end
	// middle is where the middle of a beat is played, counted from its start.
	middle project.Ticks
	// straight holds the beats that a limb divides otherwise than by twos.
	straight map[beat]bool
}

// NewSwung returns the time axis of a chart; the notes say which beats a limb
// divides otherwise than by twos.
func NewSwung(c *project.Chart, notes []Note) *Swung {
	s := &Swung{bars: c.Bars, starts: make([]project.Ticks, len(c.Bars)+1), straight: map[beat]bool{}}
	for i, b := range c.Bars {
		s.starts[i+1] = s.starts[i] + b.Length
	}
	s.middle = swingMiddle(c.Swing)
	if s.even() {
		return s
	}
	bar := 0
	for i := range notes {
		n := &notes[i]
		bar = s.barFrom(bar, n.Start)
		s.markStraight(bar, n.Start, n.Limb)
		end := n.Start + n.Duration
		s.markStraight(s.barFrom(bar, end), end, n.Limb)
	}
	return s
}

// swingMiddle returns the played length of a beat's first half; a swing that
// no chart may have counts as the nearest it may have.
func swingMiddle(swing float64) project.Ticks {
	if !(swing > 0.5) {
		swing = 0.5
	}
	return project.Ticks(math.Round(min(swing, 0.8) * float64(project.Quarter)))
}

// even reports whether nothing swings.
func (s *Swung) even() bool { return s.middle == project.Quarter/2 }

func (s *Swung) markStraight(bar int, t project.Ticks, limb Limb) {
	if start, ok := s.beatIn(bar, t); ok && (t-start)%finest != 0 {
		s.straight[beat{start, limb}] = true
	}
}

// barAt returns the index of the bar that contains t; times outside the chart
// belong to the first or last bar.
func (s *Swung) barAt(t project.Ticks) int {
	i := sort.Search(len(s.bars)-1, func(i int) bool { return s.starts[i+1] > t })
	return i
}

// barFrom is barAt for times close to a bar.
func (s *Swung) barFrom(i int, t project.Ticks) int {
	for i > 0 && t < s.starts[i] {
		i--
	}
	for i+1 < len(s.bars) && t >= s.starts[i+1] {
		i++
	}
	return i
}

// beatAt returns the start of the whole quarter beat around t in a meter that
// swings. The rest of a bar that holds no whole beat has none.
func (s *Swung) beatAt(t project.Ticks) (start project.Ticks, ok bool) {
	return s.beatIn(s.barAt(t), t)
}

// beatIn is beatAt where the bar is known.
func (s *Swung) beatIn(i int, t project.Ticks) (start project.Ticks, ok bool) {
	if i >= len(s.bars) {
		return 0, false
	}
	b := &s.bars[i]
	if b.Meter.Unit > 4 || t < s.starts[i] || t >= s.starts[i+1] {
		return 0, false
	}
	first := s.starts[i] + upbeat(b)
	if t < first {
		return 0, false
	}
	start = first + (t-first)/project.Quarter*project.Quarter
	return start, start+project.Quarter <= s.starts[i+1]
}

// upbeat returns how much of a bar comes before its first whole quarter beat.
// Pickups and second halves of split bars are counted from their end.
func upbeat(b *project.Bar) project.Ticks {
	if b.Unnumbered {
		return b.Length % project.Quarter
	}
	return 0
}

// Bend returns where a limb plays a written position, on the page's own axis.
func (s *Swung) Bend(t project.Ticks, limb Limb) project.Ticks {
	if s.even() {
		return t
	}
	return s.bendIn(s.barAt(t), t, limb)
}

// bendIn is Bend where the bar is known.
func (s *Swung) bendIn(bar int, t project.Ticks, limb Limb) project.Ticks {
	start, ok := s.beatIn(bar, t)
	if !ok || s.straight[beat{start, limb}] {
		return t
	}
	return start + s.within(t-start)
}

// BendAll returns where a written position is played by a limb that swings in
// every beat.
func (s *Swung) BendAll(t project.Ticks) project.Ticks {
	start, ok := s.beatAt(t)
	if !ok {
		return t
	}
	return start + s.within(t-start)
}

// within returns where a place within a beat is played that swings.
func (s *Swung) within(d project.Ticks) project.Ticks {
	const half = project.Quarter / 2
	if d >= half {
		return s.middle + (d-half)*(project.Quarter-s.middle)/half
	}
	return d * s.middle / half
}

// Unbend is the inverse of Bend, to the nearest tick below.
func (s *Swung) Unbend(t project.Ticks, limb Limb) project.Ticks {
	start, ok := s.beatAt(t)
	if !ok || s.straight[beat{start, limb}] {
		return t
	}
	const half = project.Quarter / 2
	if d := t - start; d >= s.middle {
		return start + half + (d-s.middle)*half/(project.Quarter-s.middle)
	}
	return start + (t-start)*half/s.middle
}
