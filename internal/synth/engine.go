package synth

import "fmt"

// Config is what an Engine is built from. The zero value is not ready; use
// DefaultConfig and change what should differ.
type Config struct {
	// SampleRate counts frames a second, 22050 to 192000.
	SampleRate int
	// Click is the level of the contact click, 0 to 1.
	Click float32
	// Master is the level after the speaker, 0 to 1.
	Master float32
	// Swell is where the expression pedal stands at the start, 0 to 1.
	Swell float32
	// Rotary are the dimensions of the speaker.
	Rotary RotaryParams
	// Speed is the speed the speaker already turns at.
	Speed Speed
	// Drive is how far the sound is driven at the start, 0 to 1.
	Drive float32
	// Room is the room around the speaker.
	Room RoomParams
	// Leakage is how much of each neighbour a generator lets through, as a
	// part of the amplitude, 0 (none) to 0.05.
	Leakage float32
	// Partials is the amplitude of the slightly inharmonic second and third
	// partials of each generator, 0 (none) to 0.1.
	Partials float32
	// Mute silences divisions, for stems; keys and clicks alike.
	Mute [Divisions]bool
}

// DefaultConfig is a moderate level at 48 kHz with the speaker turning slowly.
func DefaultConfig() Config {
	return Config{
		SampleRate: 48000,
		Click:      0.35,
		Master:     0.8,
		Swell:      0.8,
		Rotary:     DefaultRotary(),
		Speed:      Slow,
		Room:       DefaultRoom(),
	}
}

// Ceiling is the amplitude no output sample exceeds: −0.3 dBFS.
const Ceiling = 0.96605

// chunk is how many frames the stages work on at a time; buffers of this size
// stay in the first-level cache.
const chunk = 64

// smoothSeconds is how long swell and master take to reach a new value.
const smoothSeconds = 0.02

// Engine renders the instrument. It is not safe for concurrent use.
type Engine struct {
	config  Config
	bank    bank
	keys    contacts
	click   [Divisions]clicker
	accent  striker
	vibrato [Divisions]wobble
	swell   expression
	drive   driver
	speaker rotary
	room    room
	master  ramp
	tick    ticker
	limit   limiter

	frame int64 // frames rendered since Reset
	bus   [buses][chunk + pad]float32
	sum   [chunk + pad]float32
	left  [chunk + pad]float32
	right [chunk + pad]float32
}

// Init prepares the engine and takes all its memory. It fails, naming the
// field, when a setting is out of range.
func (e *Engine) Init(c Config) error {
	if c.SampleRate < 22050 || c.SampleRate > 192000 {
		return fmt.Errorf("synth: sample rate %d: expected 22050 to 192000", c.SampleRate)
	}
	if err := c.Rotary.check(); err != nil {
		return fmt.Errorf("synth: %w", err)
	}
	if err := c.Room.check(); err != nil {
		return fmt.Errorf("synth: %w", err)
	}
	if !(c.Leakage >= 0 && c.Leakage <= 0.05 && c.Partials >= 0 && c.Partials <= 0.1) {
		return fmt.Errorf("synth: leakage %g, partials %g: expected 0 to 0.05 and 0 to 0.1", c.Leakage, c.Partials)
	}
	e.config = c
	e.bank.init(c.SampleRate, float64(c.Partials))
	e.keys.init(c.SampleRate)
	e.keys.leak = c.Leakage
	for d := range e.click {
		e.click[d].init(c.SampleRate, uint32(d))
		e.vibrato[d].init(c.SampleRate)
	}
	e.accent.init(c.SampleRate)
	e.swell.init(c.SampleRate)
	e.drive.init()
	e.speaker.init(c.SampleRate, c.Rotary)
	e.room.init(c.SampleRate, c.Room)
	e.tick.init(c.SampleRate)
	e.limit.init(c.SampleRate)
	e.Reset()
	return nil
}

// Reset returns to the state after Init: all keys up, all drawbars in,
// settings as configured, time zero.
func (e *Engine) Reset() {
	n := int(smoothSeconds * float64(e.config.SampleRate))
	e.bank.reset()
	e.keys.reset()
	for d := range e.click {
		e.click[d].reset(clamp01(e.config.Click))
		e.vibrato[d].reset(n)
	}
	e.accent.reset()
	e.swell.reset(e.config.Swell, n)
	e.drive.reset(n)
	e.drive.set(e.config.Drive)
	e.speaker.reset(e.config.Speed)
	e.room.reset(e.config.Room.Level, n)
	e.master.reset(clamp01(e.config.Master), n)
	e.tick.reset()
	e.limit.reset()
	e.frame = 0
}

// SampleRate returns the configured rate.
func (e *Engine) SampleRate() int { return e.config.SampleRate }

// Latency is how many frames the output lags behind the events: the filters
// of the drive and the look-ahead of the limiter.
func (e *Engine) Latency() int { return driveDelay + e.limit.latency() }

// Render fills out, interleaved left and right, with len(out)/2 frames. The
// events must ascend by Frame; those before the block act at its first frame,
// those after it at its end. Fields out of range are brought into range.
func (e *Engine) Render(out []float32, events []Event) {
	frames := int64(len(out) / 2)
	next := 0
	for at := int64(0); at < frames; {
		for next < len(events) && events[next].Frame <= at {
			e.apply(&events[next])
			next++
		}
		end := frames
		if next < len(events) {
			end = min(end, events[next].Frame)
		}
		end = min(end, at+chunk-e.frame%chunk)
		e.segment(out[2*at : 2*end])
		at = end
	}
	for ; next < len(events); next++ {
		e.apply(&events[next])
	}
}

// segment renders frames during which no event falls. Segments never cross a
// multiple of chunk, counted from Reset; work done once a chunk therefore
// happens at the same frames whatever the size of the caller's blocks.
func (e *Engine) segment(out []float32) {
	n := len(out) / 2
	sum := e.sum[:n]
	sounding := e.organ(n) || e.swell.rings()
	if sounding {
		e.swell.apply(sum)
	} else {
		e.swell.rest(n)
	}
	left, right := e.left[:n], e.right[:n]
	if !e.drive.render(sum, sounding) {
		clear(sum)
	}
	e.speaker.render(sum, left, right)
	e.room.render(left, right)
	e.master.applyStereo(left, right)
	e.tick.add(left, right)
	e.limit.render(left, right, out)
	e.frame += int64(n)
	if e.frame%chunk == 0 {
		e.speaker.bands.flush()
		e.swell.flush()
		e.accent.flush()
		e.room.flush()
	}
}

// organ writes n frames of the three divisions into sum, and reports whether
// there is anything in it.
func (e *Engine) organ(n int) bool {
	sounding := e.generate(n)
	sum := e.sum[:n]
	clear(sum)
	heard := false
	for d := range e.vibrato {
		bus := e.bus[d][:n]
		if e.vibrato[d].render(bus, sounding[d]) && !e.config.Mute[d] {
			mix(sum, bus, 1)
			heard = true
		}
	}
	if sounding[accentBus] && !e.config.Mute[Upper] {
		mix(sum, e.bus[accentBus][:n], 1)
		heard = true
	}
	return heard
}

// generate fills the buses with n frames, cut where contacts close or open,
// and reports which of them hold anything.
func (e *Engine) generate(n int) (sounding [buses]bool) {
	for at := 0; at < n; {
		k := e.keys.advance(e.frame+int64(at), n-at, &e.bank, &e.click)
		for d := range e.bus {
			bus := e.bus[d][at : at+k]
			if e.voice(d, bus) {
				if !sounding[d] {
					clear(e.bus[d][:at])
				}
				sounding[d] = true
			} else if sounding[d] {
				clear(bus)
			}
		}
		e.bank.step(k)
		at += k
	}
	return sounding
}

// voice writes what sounds in a bus and reports whether anything does.
func (e *Engine) voice(d int, bus []float32) bool {
	if d == accentBus {
		if e.accent.envelope == 0 || !e.bank.render(&e.bank.voices[d], bus) {
			return false
		}
		e.accent.shape(bus)
		return true
	}
	sounds := e.bank.render(&e.bank.voices[d], bus)
	if !e.click[d].sounding() {
		return sounds
	}
	if !sounds {
		clear(bus)
	}
	e.click[d].add(bus)
	return true
}

func (e *Engine) apply(ev *Event) {
	d := min(ev.Division, Pedal)
	switch ev.Kind {
	case KeyDown, KeyUp:
		e.key(d, ev)
	case AllNotesOff:
		e.keys.releaseAll(e.frame)
	case SetDrawbars:
		frames := e.bank.samples
		if ev.Soft {
			frames = e.bank.soft
		}
		e.keys.register(d, ev.Drawbars, &e.bank, frames)
	case SetRotary:
		e.speaker.set(min(ev.Rotary, Fast))
	case SetSwell:
		e.swell.set(ev.Value)
	case SetMaster:
		e.master.to(clamp01(ev.Value))
	case SetClick:
		for i := range e.click {
			e.click[i].level = clamp01(ev.Value)
		}
	case SetVibrato:
		e.vibrato[d].set(ev.Vibrato)
	case SetAccent:
		e.accent.setting = ev.Accent
		e.accent.setting.Pitch = min(ev.Accent.Pitch, AccentTwelfth)
		e.keys.setAccent(&e.bank, accentOffsets[e.accent.setting.Pitch])
	case SetDrive:
		e.drive.set(ev.Value)
	case SetRoom:
		e.room.level.to(roomGain(ev.Value))
	case Tick:
		e.tick.strike(ev.Value > 0)
	}
}

// key presses or releases a key.
func (e *Engine) key(d Division, ev *Event) {
	key := int(ev.Key & 127)
	switch {
	case ev.Kind == KeyDown && ev.Soft:
		e.keys.pressSoft(d, key, &e.bank)
	case ev.Kind == KeyDown:
		if d == Upper && e.keys.down[Upper] == 0 {
			e.accent.strike(&e.bank.voices[accentBus])
		}
		e.keys.press(d, key, e.frame)
	case ev.Soft:
		e.keys.releaseSoft(d, key, &e.bank)
	default:
		e.keys.release(d, key, e.frame)
	}
}
