package player

import (
	"errors"
	"slices"
	"sync"
	"time"

	"github.com/hajimehoshi/oto/v2"
)

// This file is the only one that touches the sound device.

// otoDevice plays a source. The player is kept here because a finalizer would
// close it otherwise.
type otoDevice struct {
	context *oto.Context
	player  oto.Player
	periods int64 // frames in the device's own buffer
}

// readyTimeout is how long a device may take to answer.
const readyTimeout = 5 * time.Second

var (
	errNoneOpens = errors.New("none that this system offers opens")
	errNotBack   = errors.New("none answers; looking for one")
	errNoAnswer  = errors.New("it does not answer")
	errOnlyOne   = errors.New("it cannot be opened a second time")
)

// connection is one to the sound system, with a device's buffer of its own.
type connection struct {
	context *oto.Context
	buffer  time.Duration
}

func (c connection) works() bool { return c.context.Err() == nil }

// shared are the connections of this process. A player that comes later, or
// wants the same buffer again, uses one again; all but one are suspended. The
// library has no way to mend a connection that has failed, nor to close one, so
// a new one takes its place; what the library keeps of the old one, a goroutine
// that waits and a handle, stays until the program ends. That is why there is a
// look first whether a new one would open.
var shared struct {
	sync.Mutex
	open   []connection
	failed time.Time // when the last connection failed; zero while one works
}

// probeTrust is how long a look that finds no device is believed. The look is
// at the system's default device only; a connection may find another.
const probeTrust = 30 * time.Second

// openDevice starts the source on the system's default device.
func openDevice(s *source, rate int, p Profile) (device, error) {
	c, err := connect(rate, p.Device)
	if err != nil {
		return nil, err
	}
	p.Device = c.buffer
	s.adopt(p)
	d := &otoDevice{context: c.context, player: c.context.NewPlayer(s), periods: toFrames(c.buffer.Seconds(), rate)}
	d.resize(int(s.buffer.Load()))
	// The library asks with its buffer unlocked, so a read may look at it.
	holds := func() int { return d.player.UnplayedBufferSize() / frameBytes }
	s.holds.Store(&holds)
	d.player.Play()
	return d, nil
}

// connect returns a connection with a buffer of this length, or the one there
// is where the device cannot be opened a second time.
func connect(rate int, buffer time.Duration) (connection, error) {
	shared.Lock()
	defer shared.Unlock()
	quietDevices()
	shared.open = slices.DeleteFunc(shared.open, func(c connection) bool { return !c.works() })
	at := slices.IndexFunc(shared.open, func(c connection) bool { return c.buffer == buffer })
	if at < 0 {
		c, err := another(rate, buffer)
		if err == nil {
			shared.open = append(shared.open, c)
		} else if len(shared.open) == 0 {
			return connection{}, err
		}
		at = len(shared.open) - 1
	}
	for i, c := range shared.open {
		if i != at {
			c.context.Suspend()
		}
	}
	return shared.open[at], shared.open[at].context.Resume()
}

// another opens one more connection. Beside one that works it does so only
// where the system's default device can be opened twice, lest another device
// is taken in its place.
func another(rate int, buffer time.Duration) (connection, error) {
	beside, again := len(shared.open) > 0, !shared.failed.IsZero()
	if beside && !(severalConnections && deviceOpens()) {
		return connection{}, errOnlyOne
	}
	if again && time.Since(shared.failed) < probeTrust && !deviceOpens() {
		return connection{}, errNotBack
	}
	if !beside && !deviceOpens() {
		quietServers()
	}
	context, err := newConnection(rate, buffer)
	if err == nil {
		shared.failed = time.Time{}
		return connection{context, buffer}, nil
	}
	if !beside {
		shared.failed = time.Now()
	}
	if again {
		err = errNotBack
	}
	return connection{}, err
}

// newConnection opens a device and waits for its answer.
func newConnection(rate int, buffer time.Duration) (*oto.Context, error) {
	context, ready, err := oto.NewContextWithOptions(&oto.NewContextOptions{
		SampleRate: rate, ChannelCount: 2, Format: oto.FormatFloat32LE, BufferSize: buffer,
	})
	if err != nil {
		return nil, err
	}
	select {
	case <-ready:
	case <-time.After(readyTimeout):
		return context, errNoAnswer
	}
	if context.Err() != nil {
		return context, errNoneOpens // the library's reason lists every name it tried
	}
	return context, nil
}

// giveUp makes the next player look for a device anew.
func (d *otoDevice) giveUp() {
	shared.Lock()
	defer shared.Unlock()
	if slices.ContainsFunc(shared.open, func(c connection) bool { return c.context == d.context }) {
		shared.open, shared.failed = nil, time.Now() // the others went to the same device
	}
}

func (d *otoDevice) ahead() int64 {
	return int64(d.player.UnplayedBufferSize()/frameBytes) + d.periods
}

func (d *otoDevice) err() error {
	if d.context.Err() != nil || d.player.Err() != nil {
		return errNotBack // the library's reason names its own functions
	}
	return nil
}

func (d *otoDevice) resize(frames int) {
	if sized, ok := d.player.(oto.BufferSizeSetter); ok {
		sized.SetBufferSize(frames * frameBytes)
	}
}

func (d *otoDevice) close(failed bool) {
	d.player.Close()
	if failed {
		d.giveUp()
	}
}
