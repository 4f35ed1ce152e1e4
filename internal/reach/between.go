package reach

import (
	"cmp"
	"slices"
)

// between looks at two limbs together: keys that both want, and hands that
// cross on one manual. It sweeps over the notes in order of time and keeps
// those that sound.
func (c *checker) between() {
	order := make([]int, len(c.Notes))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(c.Notes[i].At, c.Notes[j].At) })
	var down []int
	crossed := -1
	for from := 0; from < len(order); {
		at := c.Notes[order[from]].At
		down = slices.DeleteFunc(down, func(i int) bool { return c.Notes[i].Until <= at })
		first := len(down)
		for ; from < len(order) && c.Notes[order[from]].At == at; from++ {
			down = append(down, order[from])
		}
		c.sameKeys(down, first, at)
		c.crossedHands(down, at, &crossed)
	}
}

// sameKeys reports each key of one division that two limbs hold at once, when
// the second one strikes it.
func (c *checker) sameKeys(down []int, first int, at Ticks) {
	for k, i := range down {
		for l := max(k+1, first); l < len(down); l++ {
			a, b := &c.Notes[i], &c.Notes[down[l]]
			if a.Key != b.Key || a.Limb == b.Limb || a.Division != b.Division && !c.samePlace(a, b) || a.Division == Pedal {
				continue
			}
			f := Finding{Kind: SameKey, Severity: Unplayable, Limb: b.Limb, At: at, Notes: []int{i, down[l]},
				Low: a.Key, High: a.Key, Division: a.Division}
			f.Text = sameKeyText(a, b)
			c.add(f, nil)
		}
	}
}

// samePlace reports whether two notes of one pitch are one key of a split
// manual.
func (c *checker) samePlace(a, b *Note) bool {
	return c.Console.Split > 0 && a.Division != Pedal && b.Division != Pedal
}

// crossedHands reports a left hand that reaches above the right hand's lowest
// key on the same manual.
func (c *checker) crossedHands(down []int, at Ticks, run *int) {
	low, high := -1, -1 // lowest of the right hand, highest of the left
	for _, i := range down {
		switch n := &c.Notes[i]; {
		case n.Limb == RightHand && (low < 0 || n.Key < c.Notes[low].Key):
			low = i
		case n.Limb == LeftHand && (high < 0 || n.Key > c.Notes[high].Key):
			high = i
		}
	}
	if low < 0 || high < 0 || c.Notes[high].Key <= c.Notes[low].Key ||
		!c.Console.sameManual(c.Notes[low].Division, c.Notes[high].Division) {
		*run = -1
		return
	}
	f := Finding{Kind: Crossed, Severity: Demanding, Limb: LeftHand, At: at, Notes: []int{low, high},
		Low: c.Notes[low].Key, High: c.Notes[high].Key, Division: c.Notes[high].Division}
	f.Asked = Distance(f.Low, f.High)
	f.Text = crossedText(&f)
	c.add(f, run)
}

// controls reports controls that their limb has no time for: the keys it plays
// leave less time around the action than going to the control takes. A limb
// may let go of the note before at half its length, which is demanding.
func (c *checker) controls() {
	for _, a := range c.Controls {
		g := c.gapAround(a)
		if a.EitherHand {
			b := a
			b.Limb = RightHand + LeftHand - a.Limb
			if h := c.gapAround(b); h.longest() > g.longest() {
				a, g = b, h
			}
		}
		c.control(a, g)
	}
}

func (c *checker) control(a Action, g gap) {
	need := controlTime / c.Profile.Speed
	if a.Switch {
		need = switchTime / c.Profile.Speed
	}
	if g.free >= need {
		return
	}
	f := Finding{Kind: Control, Severity: Demanding, Limb: a.Limb, At: a.At, Need: need, Time: g.longest()}
	if g.longest() < need {
		f.Severity = Unplayable
		f.TempoRatio = g.longest() / need
	}
	f.Text = controlText(&f, a)
	c.add(f, nil)
}

// gap is the time a limb has around an action, in seconds: free as written, and
// what letting go of the note before early adds.
type gap struct{ free, early float64 }

func (g gap) longest() float64 { return g.free + g.early }

// gapAround returns the time the limb of an action has between its last key
// before and its next one; none where it plays through.
func (c *checker) gapAround(a Action) gap {
	before, after, early := a.Start-10*controlTime, a.Start+10*controlTime, 0.0
	for i := range c.Notes {
		n := &c.Notes[i]
		switch {
		case c.limbOf(i) != a.Limb:
		case n.At < a.At && n.Until > a.At:
			return gap{}
		case n.Until <= a.At && n.End >= before:
			before, early = n.End, (n.End-n.Start)/2
		case n.At >= a.At:
			after = min(after, n.Start)
		}
	}
	return gap{after - before, early}
}

// limbOf returns the limb that plays a note: for the pedals the foot that the
// model chose.
func (c *checker) limbOf(i int) Limb {
	if m := &c.report.Marks[i]; m.Part != NoPart {
		return m.Foot
	}
	return c.Notes[i].Limb
}
