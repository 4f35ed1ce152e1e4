package synth

// console is the first stage of an Engine: keys, generators and vibrato, to
// the swell pedal.
type console struct {
	mute    [Divisions]bool
	bank    bank
	keys    contacts
	click   [Divisions]clicker
	accent  striker
	motion  swing
	vibrato [Divisions]wobble
	swell   expression
	frame   int64 // frames rendered since Reset
	bus     [buses][chunk + pad]float32
}

func (c *console) init(from *Config) {
	rate := from.SampleRate
	c.mute = from.Mute
	c.bank.init(rate, float64(from.Partials), from.Wheels)
	c.keys.init(rate)
	for d := range c.click {
		c.click[d].init(rate, uint32(d))
		c.vibrato[d].init(rate, &c.motion)
	}
	c.motion.init(rate)
	c.accent.init(rate)
	c.swell.init(rate)
}

func (c *console) reset(to *Config, smooth int) {
	c.bank.reset()
	c.keys.reset()
	c.keys.leak = to.Leakage
	for d := range c.click {
		c.click[d].reset(clamp01(to.Click))
		c.vibrato[d].reset(smooth)
	}
	c.motion.turn = 0
	c.accent.reset()
	c.swell.reset(to.Swell, smooth)
	c.frame = 0
}

// render writes the sum of a strip.
func (c *console) render(s *strip) {
	if c.frame%chunk == 0 {
		c.motion.begin()
	}
	sum := s.sum[:s.frames]
	if s.sounding = c.divisions(sum) || c.swell.rings(); s.sounding {
		c.swell.apply(sum)
	} else {
		c.swell.rest(s.frames)
	}
	c.frame += int64(s.frames)
	if s.ends {
		c.swell.flush()
		c.accent.flush()
	}
}

// divisions writes the three divisions into sum, and reports whether there is
// anything in it.
func (c *console) divisions(sum []float32) bool {
	n := len(sum)
	sounding := c.generate(n)
	clear(sum)
	heard := false
	for d := range c.vibrato {
		bus := c.bus[d][:n]
		if c.vibrato[d].render(bus, sounding[d]) && !c.mute[d] {
			mix(sum, bus, 1)
			heard = true
		}
	}
	if sounding[accentBus] && !c.mute[Upper] {
		mix(sum, c.bus[accentBus][:n], 1)
		heard = true
	}
	return heard
}

// generate fills the buses with n frames, cut where contacts close or open,
// and reports which of them hold anything.
func (c *console) generate(n int) (sounding [buses]bool) {
	for at := 0; at < n; {
		k := c.keys.advance(c.frame+int64(at), n-at, &c.bank, &c.click)
		for d := range c.bus {
			bus := c.bus[d][at : at+k]
			if c.voice(d, bus) {
				if !sounding[d] {
					clear(c.bus[d][:at])
				}
				sounding[d] = true
			} else if sounding[d] {
				clear(bus)
			}
		}
		c.bank.step(k)
		at += k
	}
	return sounding
}

// voice writes what sounds in a bus and reports whether anything does.
func (c *console) voice(d int, bus []float32) bool {
	if d == accentBus {
		if c.accent.envelope == 0 || !c.bank.render(&c.bank.voices[d], bus) {
			return false
		}
		c.accent.shape(bus)
		return true
	}
	sounds := c.bank.render(&c.bank.voices[d], bus)
	if !c.click[d].sounding() {
		return sounds
	}
	if !sounds {
		clear(bus)
	}
	c.click[d].add(bus)
	return true
}

func (c *console) apply(ev *Event) {
	d := min(ev.Division, Pedal)
	switch ev.Kind {
	case KeyDown, KeyUp:
		c.key(d, ev)
	case AllNotesOff:
		c.keys.releaseAll(c.frame)
	case SetDrawbars:
		frames := c.bank.samples
		if ev.Soft {
			frames = c.bank.soft
		}
		c.keys.register(d, ev.Drawbars, &c.bank, frames)
	case SetSwell:
		c.swell.set(ev.Value)
	case SetClick:
		for i := range c.click {
			c.click[i].level = clamp01(ev.Value)
		}
	case SetVibrato:
		c.vibrato[d].set(ev.Vibrato)
	case SetAccent:
		c.accent.setting = ev.Accent
		c.accent.setting.Pitch = min(ev.Accent.Pitch, AccentTwelfth)
		c.keys.setAccent(&c.bank, accentOffsets[c.accent.setting.Pitch])
	case SetLeakage:
		c.keys.setLeak(float32(within(ev.Value, 0, MaxLeakage)), &c.bank)
	case SetWheels:
		c.bank.adopt(ev.Wheels)
	}
}

// key presses or releases a key.
func (c *console) key(d Division, ev *Event) {
	key := int(ev.Key & 127)
	switch {
	case ev.Kind == KeyDown && ev.Soft:
		c.keys.pressSoft(d, key, &c.bank)
	case ev.Kind == KeyDown:
		if d == Upper && c.keys.down[Upper] == 0 {
			c.accent.strike(&c.bank.voices[accentBus])
		}
		c.keys.press(d, key, c.frame)
	case ev.Soft:
		c.keys.releaseSoft(d, key, &c.bank)
	default:
		c.keys.release(d, key, c.frame)
	}
}
