package project

import (
	"fmt"
	"sort"

	"organbook/internal/theory"
)

// Length returns the position just after the last bar.
func (c *Chart) Length() Ticks {
	var sum Ticks
	for i := range c.Bars {
		sum += c.Bars[i].Length
	}
	return sum
}

// BarStarts returns the position of every bar line: element i is where bar i
// starts, and one more element holds the end of the chart. It is computed on
// each call in one pass over the bars; whoever looks up many positions keeps
// the result, or a Ruler.
func (c *Chart) BarStarts() []Ticks {
	starts := make([]Ticks, len(c.Bars)+1)
	for i := range c.Bars {
		starts[i+1] = starts[i] + c.Bars[i].Length
	}
	return starts
}

// BarStart returns where bar i starts; i = len(Bars) is the chart's end. It
// takes time in proportion to i.
func (c *Chart) BarStart(i int) Ticks {
	var sum Ticks
	for j := range c.Bars[:i] {
		sum += c.Bars[j].Length
	}
	return sum
}

// BarAt returns the index of the bar that holds position t. Positions before
// the chart belong to the first bar and those after it to the last.
func (c *Chart) BarAt(t Ticks) int {
	var end Ticks
	for i := range c.Bars {
		if end += c.Bars[i].Length; t < end {
			return i
		}
	}
	return max(0, len(c.Bars)-1)
}

// BarNumber returns the number printed at bar i: numbered bars count from 1;
// an unnumbered bar shares the number of the one before it, and a pickup at
// the front is bar 0.
func (c *Chart) BarNumber(i int) int {
	number := 0
	for j := range c.Bars[:i+1] {
		if !c.Bars[j].Unnumbered {
			number++
		}
	}
	return number
}

// Beat returns the place of position t in its bar, counted from 1 in units of
// the meter's lower number. A pickup counts from the back, as if its bar were
// full, and the second half of a split bar counts on from the first half.
func (c *Chart) Beat(t Ticks) float64 {
	i := c.BarAt(t)
	return c.beatIn(i, t-c.BarStart(i))
}

// PositionText writes position t as bar number and beat: "9.3" is the third
// beat of bar 9, "9.2½" the place half-way to it.
func (c *Chart) PositionText(t Ticks) string {
	i := c.BarAt(t)
	return c.positionText(i, c.BarNumber(i), t-c.BarStart(i))
}

// Ruler is the bar lines and keys of one chart, measured once, so that each later
// look-up costs a binary search. It must not be used on another chart.
type Ruler struct {
	chart   *Chart
	starts  []Ticks
	numbers []int
	keys    []theory.Key
}

// Ruler measures the chart in one pass.
func (c *Chart) Ruler() *Ruler {
	n := len(c.Bars)
	r := &Ruler{chart: c, starts: c.BarStarts(), numbers: make([]int, n), keys: make([]theory.Key, n)}
	number, key := 0, c.Key
	for i := range c.Bars {
		if !c.Bars[i].Unnumbered {
			number++
		}
		if c.Bars[i].Key.IsValid() {
			key = c.Bars[i].Key
		}
		r.numbers[i], r.keys[i] = number, key
	}
	return r
}

// Length is Chart.Length.
func (r *Ruler) Length() Ticks { return r.starts[len(r.starts)-1] }

// BarStart is Chart.BarStart.
func (r *Ruler) BarStart(i int) Ticks { return r.starts[i] }

// BarAt is Chart.BarAt.
func (r *Ruler) BarAt(t Ticks) int {
	// The first line beyond t closes t's bar.
	lines := r.starts[1:]
	i := sort.Search(len(lines), func(i int) bool { return lines[i] > t })
	return max(0, min(i, len(lines)-1))
}

// BarNumber is Chart.BarNumber.
func (r *Ruler) BarNumber(i int) int { return r.numbers[i] }

// KeyOfBar is Chart.KeyOfBar.
func (r *Ruler) KeyOfBar(i int) theory.Key { return r.keys[i] }

// KeyAt is Chart.KeyAt.
func (r *Ruler) KeyAt(t Ticks) theory.Key { return r.keys[r.BarAt(t)] }

// Beat is Chart.Beat.
func (r *Ruler) Beat(t Ticks) float64 {
	i := r.BarAt(t)
	return r.chart.beatIn(i, t-r.starts[i])
}

// PositionText is Chart.PositionText.
func (r *Ruler) PositionText(t Ticks) string {
	i := r.BarAt(t)
	return r.chart.positionText(i, r.numbers[i], t-r.starts[i])
}

// countedBefore returns how much of bar i's count has passed when it starts:
// the missing front of a pickup, or the first half of a split bar.
func (c *Chart) countedBefore(i int) Ticks {
	bar := &c.Bars[i]
	switch {
	case !bar.Unnumbered:
		return 0
	case i == 0:
		return max(0, bar.Meter.Length()-bar.Length)
	case c.Bars[i-1].Length < c.Bars[i-1].Meter.Length():
		return c.Bars[i-1].Length
	}
	return 0
}

func (c *Chart) beatIn(bar int, offset Ticks) float64 {
	if len(c.Bars) == 0 {
		return 1
	}
	offset += c.countedBefore(bar)
	return 1 + float64(offset)/float64(c.Bars[bar].Meter.Beat())
}

func (c *Chart) positionText(bar, number int, offset Ticks) string {
	beat := c.Bars[bar].Meter.Beat()
	offset += c.countedBefore(bar)
	return fmt.Sprintf("%d.%d%s", number, 1+offset/beat, fractionText(offset%beat, beat))
}

// fractions holds the parts of a beat that print has a sign for, in twelfths.
var fractions = map[Ticks]string{3: "¼", 4: "⅓", 6: "½", 8: "⅔", 9: "¾"}

// fractionText writes part/whole as a sign or as "+3/5"; empty for none.
func fractionText(part, whole Ticks) string {
	if part <= 0 {
		return ""
	}
	if s, ok := fractions[12*part/whole]; ok && 12*part%whole == 0 {
		return s
	}
	d := gcd(part, whole)
	return fmt.Sprintf("+%d/%d", part/d, whole/d)
}

func gcd(a, b Ticks) Ticks {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
