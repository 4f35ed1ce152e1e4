package reach

import "math"

// feet pedals the notes of both feet and looks at the result.
func (c *checker) feet(of []int) {
	if len(of) == 0 {
		return
	}
	f := newFeet(c.Notes, of, c.Console, c.Profile, c.Swelling...)
	if c.Profile.Feet == NoFeet || c.Profile.BusyLimbs[LeftFoot] && (c.Profile.BusyLimbs[RightFoot] || c.Profile.Feet == LeftOnly) {
		c.noLimb(LeftFoot, of)
	}
	treads, work := f.solveAfter(c.before.pedalling())
	c.report.pedalled = work
	w := footWalk{run: -1}
	for i, t := range treads {
		c.markFeet(f, i, t, w.places)
		c.wideFeet(f, i, t)
		c.fastFeet(f, i, t, &w)
		w.places = f.after(w.places, i, t)
		w.strike(&f.moments[i], t)
	}
}

// footWalk is where the feet are on their way through a piece.
type footWalk struct {
	places [2]footPlace
	// struck is when each foot last struck a pedal.
	struck [2]float64
	run    int // the finding that a next moment may join, -1 for none
}

func (w *footWalk) strike(m *moment, t tread) {
	for k := range m.presses {
		if m.presses[k].struck {
			w.struck[t[k].foot] = m.start
		}
	}
}

var footLimbs = [2]Limb{LeftFoot, RightFoot}

func (c *checker) markFeet(f *feet, i int, t tread, places [2]footPlace) {
	m := &f.moments[i]
	for k, p := range m.presses {
		if !p.struck {
			continue
		}
		mark := Mark{Foot: footLimbs[t[k].foot], Part: t[k].part}
		if len(m.presses) == 1 {
			mark.Cross = crossOf(places[1-t[k].foot], p.key, t[k])
		}
		if was := places[t[k].foot]; was.down() {
			step := kindOfStep(was, &m.presses[k], t[k].part)
			mark.Glide = step == slideOffStep || step == slideOnStep
		}
		c.report.Marks[p.note] = mark
	}
}

// wideFeet reports two pedals for one foot, and more than two.
func (c *checker) wideFeet(f *feet, i int, t tread) {
	m := &f.moments[i]
	if len(m.dropped) > 0 {
		d := c.footFinding(m, TooMany, Unplayable, LeftFoot)
		d.Keys, d.MaxKeys = len(m.presses)+len(m.dropped), 2
		d.Text = tooManyText(&d)
		c.add(d, nil)
	}
	if len(m.presses) < 2 || t[0].foot != t[1].foot {
		return
	}
	d := c.footFinding(m, WideFeet, Demanding, footLimbs[t[0].foot])
	d.Asked, d.Limit = PedalDistance(d.Low, d.High), footSpan*pedalPitch
	if d.Asked > d.Limit || t[0].part == t[1].part {
		d.Severity = Unplayable
	}
	d.Text = wideFeetText(&d)
	c.add(d, nil)
}

func (c *checker) footFinding(m *moment, kind Kind, severity Severity, limb Limb) Finding {
	return Finding{
		Kind: kind, Severity: severity, Limb: limb, At: m.at, Notes: m.notesOf(), Division: Pedal,
		Low: m.presses[0].key, High: m.presses[len(m.presses)-1].key,
	}
}

// fastFeet reports a foot that has too little time to get to its pedal, from
// its last stroke on, or from the moment before if it still played then.
func (c *checker) fastFeet(f *feet, i int, t tread, w *footWalk) {
	m := &f.moments[i]
	for k := range m.presses {
		foot, p := t[k].foot, &m.presses[k]
		was := w.places[foot]
		if !p.struck || was.nowhere() {
			continue
		}
		time := m.start - w.struck[foot]
		if was.down() {
			time = m.start - f.moments[i-1].start
		}
		gap := math.Abs(pedalSlot(was.key()) - pedalSlot(p.key))
		need := f.footTime(gap)
		if was.down() && kindOfStep(was, p, t[k].part) == heelToeStep {
			need = heelTime / f.profile.Speed
		}
		if need <= NearLimit*time {
			continue
		}
		c.addFastFoot(m, p, footLimbs[foot], gap, need, time, &w.run)
		return
	}
	w.run = -1
}

func (c *checker) addFastFoot(m *moment, p *press, limb Limb, gap, need, time float64, run *int) {
	d := c.footFinding(m, Fast, Demanding, limb)
	d.Low, d.High = p.key, p.key
	d.Asked, d.Need, d.Time = Millimetres(gap)*pedalPitch, need, time
	if need > time {
		d.Severity, d.TempoRatio = Unplayable, time/need
	}
	d.Text = fastText(&d, c.Tempo)
	c.add(d, run)
}
