package player

import (
	"math"
	"sync"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// Key is a key of a division, as a MIDI key number.
type Key struct {
	Division arrange.Division
	Key      int
}

// Options choose how a Player is set up. The zero value is ready.
type Options struct {
	// Profile sizes the buffers; the zero value is LiveProfile.
	Profile Profile
	// Learned is what an automatic choice learned in an earlier run.
	Learned Learned
	// Click is the level of the contact click, above 0 to 1; 0 is the usual
	// level, below 0 none.
	Click float64
	// Master is the level at the start, above 0 to 1; 0 is a safe level.
	Master float64

	retry   time.Duration // 0 is retryInterval
	stalled time.Duration // 0 is stalled
	calm    time.Duration // 0 is firstCalm
}

// Profile sizes the buffers between the instrument and the ear. Small buffers
// answer quickly, large ones survive a busy machine.
type Profile struct {
	// Automatic leaves the choice to the player, see chooser; then nothing else
	// counts.
	Automatic bool
	// Device is the length of the device's buffer.
	Device time.Duration
	// Buffer is the least length of the player's own buffer, which is at least
	// twice what the device takes at a time, and Read the most that is rendered
	// at a time, both in frames.
	Buffer, Read int
}

// The buffers to choose from. The delay of each was measured by
// BenchmarkSoundOfAKey.
var (
	// AutomaticProfile begins with ShortestProfile for keys and with LiveProfile for
	// a score, and follows the machine.
	AutomaticProfile = Profile{Automatic: true}
	// ShortestProfile and ShortProfile answer soonest, on machines that have
	// little else to do.
	ShortestProfile = Profile{Device: 4 * time.Millisecond, Buffer: 96, Read: 64}
	ShortProfile    = Profile{Device: 10 * time.Millisecond, Buffer: 256, Read: 64}
	// LiveProfile is the usual one: a key is heard after 62 ms, where it takes 24
	// with ShortProfile and 12 with ShortestProfile. With 20 ms of the device in
	// place of 30 there were ten times the gaps on a busy machine.
	LiveProfile = Profile{Device: 30 * time.Millisecond, Buffer: 1024, Read: 128}
	// SafeProfile is for machines on which LiveProfile has gaps.
	SafeProfile = Profile{Device: 60 * time.Millisecond, Buffer: 4096, Read: 256}
)

// Status is what a window shows of the sound.
type Status struct {
	// Settled reports that the search for a sound device has ended.
	Settled bool
	// Device reports that there is one and that it works.
	Device bool
	// Err says in a sentence why there is none; empty otherwise.
	Err string
	// Lost counts how often a working device was lost.
	Lost int
	// Late counts how often the device asked for sound later than its buffers
	// last; each may have been a gap.
	Late int
	// Starved counts those late reads after which the whole buffer had to be
	// filled: each was a gap in the sound. After the others the device itself
	// had not asked.
	Starved int
	// Longest is the longest that rendering took between two answers to the
	// device; a gap with Longest well under the buffers came from elsewhere.
	Longest time.Duration
	// Waited is the longest time between two reads.
	Waited time.Duration
	// SampleRate is in frames a second.
	SampleRate int
	// Buffers are those in force; where they were left to the player, those that
	// it has chosen.
	Buffers Profile
}

// Player plays performances and single keys. Its methods may be called from
// any goroutine and return at once.
type Player struct {
	rate      int
	retry     time.Duration
	stalled   time.Duration
	calm      time.Duration
	transport transport
	source    source
	outside   outside

	mu         sync.Mutex
	status     Status
	device     device
	generation uint64
	score      *score
	performed  *perform.Performance
	countIn    int
	partials   float64       // of the instrument, or of the waves being made for it
	profile    Profile       // the buffers asked for
	chooser    chooser       // chooses where that is left to the player
	changed    chan struct{} // told that they are others
	smooth     smoother
	closed     chan struct{}
	ended      chan struct{} // closed when run has returned
	once       sync.Once
}

// sampleRate is what the player asks of the device.
const sampleRate = 48000

// New returns a player at once and looks for a sound device in the background.
func New(o Options) *Player { return start(o, openDevice) }

func start(o Options, open opener) *Player {
	p := prepare(o)
	go p.run(open)
	return p
}

// prepare returns a player that nobody feeds yet.
func prepare(o Options) *Player {
	c := configured(synth.DefaultConfig(), project.DefaultTone())
	c.SampleRate = sampleRate
	if o.Master > 0 {
		c.Master = float32(o.Master)
	}
	if o.Click != 0 {
		c.Click = float32(max(0, o.Click))
	}
	if o.Profile == (Profile{}) {
		o.Profile = LiveProfile
	}
	if o.retry == 0 {
		o.retry = retryInterval
	}
	if o.stalled == 0 {
		o.stalled = stalled
	}
	if o.calm == 0 {
		o.calm = firstCalm
	}
	p := &Player{rate: c.SampleRate, retry: o.retry, stalled: o.stalled, calm: o.calm, score: &score{},
		profile: o.Profile, chooser: newChooser(o.Learned, time.Now()), changed: make(chan struct{}, 1), closed: make(chan struct{}), ended: make(chan struct{})}
	p.status.SampleRate = c.SampleRate
	if err := p.transport.init(c); err != nil {
		panic(err) // the configuration is ours
	}
	p.source.init(&p.transport, c.SampleRate, o.Profile)
	return p
}

// Close lets go of the device. The player must not be used afterwards.
func (p *Player) Close() {
	p.once.Do(func() { close(p.closed) })
}

// Status returns the state of the sound device.
func (p *Player) Status() Status {
	p.mu.Lock()
	defer p.mu.Unlock()
	s := p.status
	s.Late = int(p.source.late.Load())
	s.Starved = int(p.source.starved.Load())
	s.Longest = time.Duration(p.source.longest.Load())
	s.Waited = time.Duration(p.source.waited.Load())
	return s
}

// Learned is what the automatic choice of buffers has learned, for Options of the
// next start.
func (p *Player) Learned() Learned {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.chooser.learned()
}

// Load stops and makes perf what Play plays, from its start. perf must not be
// changed afterwards; nil is silence.
func (p *Player) Load(perf *perform.Performance) {
	p.Stop()
	p.Replace(perf, 0)
}

// Replace makes perf what is played and goes on at the given second of it,
// playing on if it was playing: how an edit, another tempo or a muted layer is
// heard without a break.
func (p *Player) Replace(perf *perform.Performance, seconds float64) {
	s := newScore(perf, p.rate)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.score, p.performed = s, perf
	p.transport.queue.send(command{action: doLoad, score: s, at: p.frame(seconds)})
}

// Duration is the length of what is loaded, in seconds.
func (p *Player) Duration() float64 {
	p.mu.Lock()
	defer p.mu.Unlock()
	return toSeconds(p.score.frames, p.rate)
}

// frame returns the frame of a second within the score. Callers hold mu.
func (p *Player) frame(seconds float64) int64 {
	if !(seconds > 0) {
		return 0
	}
	return toFrames(min(seconds, toSeconds(p.score.frames, p.rate)), p.rate)
}

// Play plays from the given second, after the count-in if one is set. At or
// beyond the end it plays from the start.
func (p *Player) Play(from float64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	at := p.frame(from)
	if at >= p.score.frames {
		at = 0
	}
	if !p.Playing() && p.profile.Automatic && p.device != nil && p.chooser.begin(!p.source.playedAlong()) {
		p.transport.holdPlay(int64(p.rate) / 2)
		p.askAnew()
	}
	c := command{action: doPlay, at: at}
	if p.countIn > 0 && p.performed != nil {
		c.countIn = ticks(p.performed.CountIn(p.countIn, toSeconds(at, p.rate)), p.rate)
		for i := range c.countIn {
			c.countIn[i].frame += at
		}
	}
	p.send(c, 1)
}

// Stop stops playing. Keys held by hand go on sounding.
func (p *Player) Stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.send(command{action: doStop}, 0)
}

// Panic stops playing and releases every key.
func (p *Player) Panic() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.send(command{action: doPanic}, 0)
}

// send hands over a command that starts or ends playing. The state changes at
// once, so that Playing answers for the request rather than for the device.
// Callers hold mu.
func (p *Player) send(c command, playing uint64) {
	p.generation++
	c.generation = p.generation
	p.transport.state.Store(p.generation<<1 | playing)
	p.transport.queue.send(c)
}

// Toggle plays from the given second, or stops if it is playing.
func (p *Player) Toggle(from float64) {
	if p.Playing() {
		p.Stop()
	} else {
		p.Play(from)
	}
}

// Seek moves the cursor, playing on if it was playing.
func (p *Player) Seek(seconds float64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.transport.queue.send(command{action: doSeek, at: p.frame(seconds)})
}

// Playing reports whether it plays; false again after the end.
func (p *Player) Playing() bool { return p.transport.state.Load()&1 == 1 }

// Position returns the second of the score that is heard at this moment, and
// whether the score is moving there. During a count-in it stays below the
// second that playing begins at, below zero if need be.
func (p *Player) Position() (seconds float64, moving bool) {
	p.transport.queue.flush()
	p.mu.Lock()
	defer p.mu.Unlock()
	cursor, moving := p.transport.timeline.at(p.heard())
	return toSeconds(cursor, p.rate), moving
}

// heard is the frame of the stream that leaves the loudspeaker now. Callers
// hold mu.
func (p *Player) heard() int64 {
	now := p.transport.rendered.Load()
	if p.device != nil {
		now = p.smooth.at(now-p.device.ahead(), time.Now(), p.rate)
	}
	return max(0, now-int64(p.transport.engine.Latency()))
}

// SetLoop repeats the stretch between two seconds while on.
func (p *Player) SetLoop(from, to float64, on bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.transport.queue.send(command{action: doLoop, at: p.frame(from), to: p.frame(to), on: on})
}

// SetMute silences the layers of a set, at once.
func (p *Player) SetMute(layers perform.LayerSet) {
	p.transport.queue.send(command{action: doMute, mute: layers})
}

// SetMetronome turns the clicks on the felt beats on or off.
func (p *Player) SetMetronome(on bool) {
	p.transport.queue.send(command{action: doTicks, on: on})
}

// SetCountIn makes Play count the given number of bars first; 0 is none.
func (p *Player) SetCountIn(bars int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.countIn = max(0, min(bars, 8))
}

// Level returns the greatest amplitude since the last call, 0 to 1.
func (p *Player) Level() float64 {
	return float64(math.Float32frombits(p.transport.peak.Swap(0)))
}
