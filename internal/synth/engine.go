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
	// part of the amplitude, 0 (none) to MaxLeakage.
	Leakage float32
	// Partials is the amplitude of the slightly inharmonic second and third
	// partials of each generator, 0 (none) to MaxPartials.
	Partials float32
	// Wheels are loops with these partials, made before at the sample rate, for
	// engines to share; nil has the engine make its own.
	Wheels *Wheels
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

// The most that Leakage and Partials may be.
const (
	MaxLeakage  = 0.05
	MaxPartials = 0.1
)

// Ceiling is the amplitude no output sample exceeds: −0.3 dBFS.
const Ceiling = 0.96605

// chunk is how many frames the stages work on at a time; buffers of this size
// stay in the first-level cache.
const chunk = 64

// smoothSeconds is how long swell and master take to reach a new value.
const smoothSeconds = 0.02

// Engine renders the instrument. It is not safe for concurrent use, but for
// its Stages.
type Engine struct {
	config Config
	console
	tower
	hall
	strip strip
}

// strip is what passes through the stages at a time: frames during which no
// event falls, within a chunk.
type strip struct {
	events   []Event // that act at its start, in a Batch
	frames   int
	ends     bool // a chunk
	sounding bool // whether sum holds anything
	sum      [chunk + pad]float32
	left     [chunk + pad]float32
	right    [chunk + pad]float32
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
	if !(c.Leakage >= 0 && c.Leakage <= MaxLeakage && c.Partials >= 0 && c.Partials <= MaxPartials) {
		return fmt.Errorf("synth: leakage %g, partials %g: expected 0 to 0.05 and 0 to 0.1", c.Leakage, c.Partials)
	}
	e.config = c
	e.console.init(&c)
	e.tower.init(&c)
	e.hall.init(&c)
	e.Reset()
	return nil
}

// Reset returns to the state after Init: all keys up, all drawbars in,
// settings as configured, time zero.
func (e *Engine) Reset() {
	smooth := int(smoothSeconds * float64(e.config.SampleRate))
	e.console.reset(&e.config, smooth)
	e.tower.reset(&e.config, smooth)
	e.hall.reset(&e.config, smooth)
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
	s := &e.strip
	for at, frames := int64(0), int64(len(out)/2); at < frames; at += int64(s.frames) {
		var due []Event
		due, events = s.cut(at, frames, e.frame, events)
		e.apply(due)
		e.console.render(s)
		e.tower.render(s)
		e.hall.render(s, out[2*at:])
	}
	e.apply(events)
}

// cut makes s begin at a frame of a block and end before the next event or
// where the chunk ends, counted from Reset; work done once a chunk therefore
// happens at the same frames whatever the size of the caller's blocks. It
// returns the events that are due and those that are left.
func (s *strip) cut(at, frames, sinceReset int64, events []Event) (due, left []Event) {
	n := 0
	for n < len(events) && events[n].Frame <= at {
		n++
	}
	end := min(frames, at+chunk-sinceReset%chunk)
	if n < len(events) {
		end = min(end, events[n].Frame)
	}
	s.frames = int(end - at)
	s.ends = (sinceReset+end-at)%chunk == 0
	return events[:n], events[n:]
}

func (e *Engine) apply(events []Event) {
	for i := range events {
		e.console.apply(&events[i])
		e.tower.apply(&events[i])
		e.hall.apply(&events[i])
	}
}

// within brings a value into a range; what is not a number becomes its least.
func within(value float32, least, most float64) float64 {
	if v := float64(value); v > least {
		return min(v, most)
	}
	return least
}
