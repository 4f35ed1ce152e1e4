package reach

import "math"

// feet pedals the notes of both feet and looks at the result.
func (c *checker) feet(of []int) {
	if len(of) == 0 {
		return
	}
	f := newFeet(c.Notes, of, c.Console, c.Profile)
	if c.Profile.Feet == NoFeet || c.Profile.BusyLimbs[LeftFoot] && (c.Profile.BusyLimbs[RightFoot] || c.Profile.Feet == LeftOnly) {
		c.noLimb(LeftFoot, of)
	}
	treads, _ := f.solve()
	places := [2]footPlace{}
	run := -1
	for i, t := range treads {
		c.markFeet(f, i, t, places)
		c.wideFeet(f, i, t)
		if i > 0 {
			c.fastFeet(f, i, t, places, &run)
		}
		places = f.after(places, i, t)
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

// fastFeet reports a foot that has too little time to get to its pedal.
func (c *checker) fastFeet(f *feet, i int, t tread, places [2]footPlace, run *int) {
	m := &f.moments[i]
	time := m.start - f.moments[i-1].start
	for k := range m.presses {
		was, p := places[t[k].foot], &m.presses[k]
		if !p.struck || !was.down || was == (footPlace{}) {
			continue
		}
		gap := math.Abs(pedalSlot(int(was.key)) - pedalSlot(p.key))
		need := f.footTime(gap, was.part != t[k].part)
		if kindOfStep(was, p, t[k].part) == heelToeStep {
			need = heelTime / f.profile.Speed
		}
		if need <= NearLimit*time {
			continue
		}
		c.addFastFoot(m, p, footLimbs[t[k].foot], gap, need, time, run)
		return
	}
	*run = -1
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
