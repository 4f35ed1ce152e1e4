package player

import (
	"errors"
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

var errNoneOpens = errors.New("none that this system offers opens")

// openDevice opens the system's default device. A process can do so once.
func openDevice(s *source, rate int, p Profile) (device, error) {
	quietDevices()
	context, ready, err := oto.NewContextWithOptions(&oto.NewContextOptions{
		SampleRate: rate, ChannelCount: 2, Format: oto.FormatFloat32LE, BufferSize: p.Device,
	})
	if err != nil {
		return nil, err
	}
	select {
	case <-ready:
	case <-time.After(readyTimeout):
		return nil, errors.New("it does not answer")
	}
	if context.Err() != nil {
		return nil, errNoneOpens // the library's reason lists every name it tried
	}
	d := &otoDevice{context: context, player: context.NewPlayer(s), periods: toFrames(p.Device.Seconds(), rate)}
	d.resize(p.Buffer)
	d.player.Play()
	return d, nil
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
