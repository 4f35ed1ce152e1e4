package player

import (
	"errors"
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
	// The library opens one connection a process and cannot open another.
	errGone = errors.New("it is gone; start the program again once it is back")
)

// shared is the one connection to the sound system that a process may open;
// players that come after the first use it again, with the first one's device
// buffer.
var shared struct {
	sync.Mutex
	context *oto.Context
	buffer  time.Duration
	worked  bool
}

// openDevice starts the source on the system's default device.
func openDevice(s *source, rate int, p Profile) (device, error) {
	context, buffer, err := connect(rate, p.Device)
	if err != nil {
		return nil, err
	}
	d := &otoDevice{context: context, player: context.NewPlayer(s), periods: toFrames(buffer.Seconds(), rate)}
	d.resize(p.Buffer)
	d.player.Play()
	return d, nil
}

func connect(rate int, buffer time.Duration) (*oto.Context, time.Duration, error) {
	shared.Lock()
	defer shared.Unlock()
	if shared.context == nil {
		quietDevices()
		context, ready, err := oto.NewContextWithOptions(&oto.NewContextOptions{
			SampleRate: rate, ChannelCount: 2, Format: oto.FormatFloat32LE, BufferSize: buffer,
		})
		if err != nil {
			return nil, 0, err
		}
		shared.context, shared.buffer = context, buffer
		select {
		case <-ready:
		case <-time.After(readyTimeout):
			return nil, 0, errors.New("it does not answer")
		}
	}
	if shared.context.Err() != nil {
		if shared.worked {
			return nil, 0, errGone
		}
		return nil, 0, errNoneOpens // the library's reason lists every name it tried
	}
	shared.worked = true
	return shared.context, shared.buffer, nil
}

func (d *otoDevice) ahead() int64 {
	return int64(d.player.UnplayedBufferSize()/frameBytes) + d.periods
}

func (d *otoDevice) err() error {
	return errors.Join(d.context.Err(), d.player.Err())
}

func (d *otoDevice) resize(frames int) {
	if sized, ok := d.player.(oto.BufferSizeSetter); ok {
		sized.SetBufferSize(frames * frameBytes)
	}
}

func (d *otoDevice) close() { d.player.Close() }
