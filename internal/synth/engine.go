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
	swell   ramp
	speaker rotary
	master  ramp
	tick    ticker
	limit   limiter

	frame int64 // frames rendered since Reset
	bus   [chunk]float32
	sum   [chunk]float32
	left  [chunk]float32
	right [chunk]float32
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
	e.config = c
	e.bank.init(c.SampleRate)
	e.keys.init(c.SampleRate)
	for d := range e.click {
		e.click[d].init(c.SampleRate, uint32(d))
	}
	e.speaker.init(c.SampleRate, c.Rotary)
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
	}
	e.swell.reset(swellGain(e.config.Swell), n)
	e.speaker.reset(e.config.Speed)
	e.master.reset(clamp01(e.config.Master), n)
	e.tick.reset()
	e.limit.reset()
	e.frame = 0
}

// SampleRate returns the configured rate.
func (e *Engine) SampleRate() int { return e.config.SampleRate }

// Latency is how many frames the output lags behind the events, which is the
// look-ahead of the limiter.
func (e *Engine) Latency() int { return e.limit.latency() }

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
	clear(sum)
	e.organ(sum)
	e.swell.apply(sum)
	left, right := e.left[:n], e.right[:n]
	e.speaker.render(sum, left, right)
	e.master.applyStereo(left, right)
	e.tick.add(left, right)
	e.limit.render(left, right, out)
	e.frame += int64(n)
	if e.frame%chunk == 0 {
		e.speaker.bands.flush()
	}
}

// organ adds the three divisions to sum, cut where contacts close or open.
func (e *Engine) organ(sum []float32) {
	for at := 0; at < len(sum); {
		n := e.keys.advance(e.frame+int64(at), len(sum)-at, &e.bank, &e.click)
		for d := range e.click {
			bus := e.bus[:n]
			if !e.bank.render(Division(d), bus) {
				clear(bus)
				if !e.click[d].sounding() {
					continue
				}
			}
			e.click[d].add(bus)
			if !e.config.Mute[d] {
				mix(sum[at:at+n], bus)
			}
		}
		e.bank.step(n)
		at += n
	}
}

func (e *Engine) apply(ev *Event) {
	d := min(ev.Division, Pedal)
	switch ev.Kind {
	case KeyDown:
		e.keys.press(d, int(ev.Key&127), e.frame)
	case KeyUp:
		e.keys.release(d, int(ev.Key&127), e.frame)
	case AllNotesOff:
		e.keys.releaseAll(e.frame)
	case SetDrawbars:
		e.keys.register(d, ev.Drawbars, &e.bank)
	case SetRotary:
		e.speaker.set(min(ev.Rotary, Fast))
	case SetSwell:
		e.swell.to(swellGain(ev.Value))
	case SetMaster:
		e.master.to(clamp01(ev.Value))
	case SetClick:
		for i := range e.click {
			e.click[i].level = clamp01(ev.Value)
		}
	case Tick:
		e.tick.strike(ev.Value > 0)
	}
}

func mix(into, from []float32) {
	from = from[:len(into)]
	for i := range into {
		into[i] += from[i]
	}
}
