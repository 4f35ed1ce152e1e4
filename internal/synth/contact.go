package synth

// contacts is the keying: which keys are held and which of the contacts under
// them are closed. The contacts of a key close one after another within a few
// milliseconds of the press and open likewise after the release; the delays
// are a property of each contact, so a key always speaks the same way.
//
// Invariant: a contact has at most one pending action. Pressing a key whose
// contact is about to open cancels the opening, and the other way round, so
// however fast a key is played nothing can hang.
type contacts struct {
	held     [Divisions][128]uint8
	closed   [Divisions][128][9]bool
	gain     [Divisions][9]float32 // of each drawbar
	down     [Divisions]int        // how many keys are held
	accent   int                   // semitones from the key to the struck accent
	leak     float32               // of the neighbours of a generator
	place    [Divisions][128][9]uint16
	pending  []action
	due      int64 // frame of the earliest pending action
	grid     int64 // frames between the instants at which contacts move
	instants uint32
}

// action is a contact that closes or opens at a frame.
type action struct {
	at       int64
	division Division
	key      uint8
	contact  uint8
	close    bool
}

const (
	// contactSpread is how long it takes from the first to the last contact of
	// a key, in seconds.
	contactSpread = 0.003
	// contactGrid is the interval at which contacts move, in seconds; keys
	// pressed together then share their instants, which saves work.
	contactGrid = 0.00017
	// never is a frame no engine reaches.
	never = 1 << 62
)

func (c *contacts) init(rate int) {
	c.pending = make([]action, 0, Divisions*128*9)
	c.grid = max(1, int64(contactGrid*float64(rate)))
	c.instants = uint32(contactSpread*float64(rate)/float64(c.grid)) + 1
}

func (c *contacts) reset() {
	*c = contacts{pending: c.pending[:0], grid: c.grid, instants: c.instants, due: never}
}

func (c *contacts) press(d Division, key int, now int64) {
	h := &c.held[d][key]
	if *h == 255 {
		return
	}
	*h++
	if *h == 1 {
		c.down[d]++
		c.move(d, key, now, true)
	}
}

// pressSoft and releaseSoft move all contacts of a key at once, and its
// generators fade.
func (c *contacts) pressSoft(d Division, key int, b *bank) {
	h := &c.held[d][key]
	if *h == 255 {
		return
	}
	if *h++; *h == 1 {
		c.down[d]++
		c.fade(d, key, b, true)
	}
}

func (c *contacts) releaseSoft(d Division, key int, b *bank) {
	h := &c.held[d][key]
	if *h == 0 {
		return
	}
	if *h--; *h == 0 {
		c.down[d]--
		c.fade(d, key, b, false)
	}
}

func (c *contacts) fade(d Division, key int, b *bank, down bool) {
	for i := range contactsOf(d) {
		if p := c.place[d][key][i]; p != 0 {
			c.cancel(int(p) - 1)
		}
		if c.closed[d][key][i] != down {
			c.turn(d, key, i, down, b, b.soft)
		}
	}
}

// turn closes or opens a contact; its generators follow within some frames.
func (c *contacts) turn(d Division, key, contact int, down bool, b *bank, frames int) {
	c.closed[d][key][contact] = down
	if d == Upper && contact == accentContact {
		c.joinAccent(b, key, down)
	}
	gain := c.gain[d][contact]
	if gain == 0 {
		return
	}
	if !down {
		gain = -gain
		if d == Pedal {
			frames = max(frames, b.release)
		}
	}
	c.connect(b, d, key, contact, gain, frames)
}

func (c *contacts) release(d Division, key int, now int64) {
	h := &c.held[d][key]
	if *h == 0 {
		return
	}
	*h--
	if *h == 0 {
		c.down[d]--
		c.move(d, key, now, false)
	}
}

func (c *contacts) releaseAll(now int64) {
	for d := range c.held {
		for key, h := range c.held[d] {
			if h > 0 {
				c.held[d][key] = 0
				c.down[d]--
				c.move(Division(d), key, now, false)
			}
		}
	}
}

// move schedules all contacts of a key.
func (c *contacts) move(d Division, key int, now int64, down bool) {
	for i := range contactsOf(d) {
		if p := c.place[d][key][i]; p != 0 {
			c.cancel(int(p) - 1)
		}
		if c.closed[d][key][i] != down {
			c.schedule(action{now + c.delay(d, key, i), d, uint8(key), uint8(i), down})
		}
	}
}

// delay returns how late a contact moves.
func (c *contacts) delay(d Division, key, contact int) int64 {
	h := uint32(d)*0x9e3779b1 ^ uint32(key)*0x85ebca6b ^ uint32(contact)*0xc2b2ae35
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 13
	return int64(h%c.instants) * c.grid
}

func (c *contacts) schedule(a action) {
	c.pending = append(c.pending, a) // never beyond the capacity, by the invariant
	c.place[a.division][a.key][a.contact] = uint16(len(c.pending))
	c.due = min(c.due, a.at)
}

// cancel takes a pending action out; the last one takes its place.
func (c *contacts) cancel(i int) {
	a := c.pending[i]
	c.place[a.division][a.key][a.contact] = 0
	last := len(c.pending) - 1
	if i != last {
		b := c.pending[last]
		c.pending[i] = b
		c.place[b.division][b.key][b.contact] = uint16(i + 1)
	}
	c.pending = c.pending[:last]
}

// advance moves the contacts that are due at frame now and returns for how
// many of the next n frames none moves again.
func (c *contacts) advance(now int64, n int, b *bank, clicks *[Divisions]clicker) int {
	if c.due <= now {
		c.perform(now, b, clicks)
	}
	return int(min(int64(n), c.due-now))
}

func (c *contacts) perform(now int64, b *bank, clicks *[Divisions]clicker) {
	c.due = never
	for i := 0; i < len(c.pending); {
		a := c.pending[i]
		if a.at > now {
			c.due = min(c.due, a.at)
			i++
			continue
		}
		c.cancel(i)
		c.turn(a.division, int(a.key), int(a.contact), a.close, b, b.samples)
		if gain := c.gain[a.division][a.contact]; gain != 0 {
			clicks[a.division].strike(gain, a.close)
		}
	}
}

// register sets the drawbars; contacts that are closed follow within some
// frames.
func (c *contacts) register(d Division, bars Drawbars, b *bank, frames int) {
	for i := range contactsOf(d) {
		gain := drawbarGain(bars[i])
		if d == Pedal {
			gain *= pedalLevel
		}
		change := gain - c.gain[d][i]
		c.gain[d][i] = gain
		if change == 0 {
			continue
		}
		for key := range c.closed[d] {
			if c.closed[d][key][i] {
				c.connect(b, d, key, i, change, frames)
			}
		}
	}
}

// connect adds gain to the generators behind a contact.
func (c *contacts) connect(b *bank, d Division, key, contact int, gain float32, frames int) {
	if d != Pedal {
		c.feed(b, d, Generator(d, key, contact), gain, frames)
		return
	}
	for _, p := range pedalPartials[contact] {
		c.feed(b, d, fold(key+p.offset), gain*p.weight, frames)
	}
}

// feed adds gain to a generator and what leaks of its neighbours.
func (c *contacts) feed(b *bank, d Division, g int, gain float32, frames int) {
	b.voices[d].add(g, gain*tapers[g], frames)
	if c.leak != 0 {
		feedNeighbours(&b.voices[d], g, gain*c.leak, frames)
	}
}

func feedNeighbours(v *voices, g int, gain float32, frames int) {
	for _, n := range [2]int{g - 1, g + 1} {
		if n >= 0 && n < Generators {
			v.add(n, gain*tapers[n], frames)
		}
	}
}

// setLeak changes what leaks, also under the keys that are held.
func (c *contacts) setLeak(leak float32, b *bank) {
	change := leak - c.leak
	c.leak = leak
	if change == 0 {
		return
	}
	for d := range Division(Divisions) {
		for key := range c.closed[d] {
			for i := range contactsOf(d) {
				if c.closed[d][key][i] && c.gain[d][i] != 0 {
					c.leakMore(b, d, key, i, c.gain[d][i]*change)
				}
			}
		}
	}
}

func (c *contacts) leakMore(b *bank, d Division, key, contact int, gain float32) {
	if d != Pedal {
		feedNeighbours(&b.voices[d], Generator(d, key, contact), gain, b.soft)
		return
	}
	for _, p := range pedalPartials[contact] {
		feedNeighbours(&b.voices[d], fold(key+p.offset), gain*p.weight, b.soft)
	}
}
