package player

import (
	"errors"
	"runtime"
	"time"
)

// device is what takes the sound away.
type device interface {
	// ahead is how many frames it has taken that are not heard yet.
	ahead() int64
	// err tells why it has stopped working; nil while it works.
	err() error
	// resize changes the length of the player's own buffer.
	resize(frames int)
	// close lets go of it; failed says that it does not work any more.
	close(failed bool)
}

// opener finds a device and starts it on a source.
type opener func(s *source, rate int, p Profile) (device, error)

// retryInterval is how soon a device that is missing or lost is looked for
// again.
const retryInterval = 2 * time.Second

// run opens the device, watches over it, stands in for it with a timer while
// there is none, and looks for it again now and then.
func (p *Player) run(open opener) {
	defer close(p.ended)
	for {
		profile := p.asked()
		p.source.adopt(profile)
		d, err := open(&p.source, p.rate, profile)
		p.settle(d, err)
		if err == nil {
			end := p.watch(d, profile)
			d.close(end == deviceFailed)
			if end == otherBuffers {
				continue
			}
		}
		if !p.silently(p.retry) {
			return
		}
	}
}

// asked returns the buffers that were asked for last.
func (p *Player) asked() Profile {
	p.mu.Lock()
	defer p.mu.Unlock()
	select {
	case <-p.changed:
	default:
	}
	return p.profile
}

// SetProfile changes the buffers between the instrument and the ear, at once:
// the device is opened anew with them, where it can be a second time, which
// takes a moment of silence. Where it cannot, its own buffer stays as long as
// it is until the program ends, and only the player's changes.
func (p *Player) SetProfile(to Profile) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.profile == to {
		return
	}
	p.profile = to
	select {
	case p.changed <- struct{}{}:
	default:
	}
}

func (p *Player) settle(d device, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if err != nil && p.status.Device {
		p.status.Lost++
	}
	p.status.Settled, p.status.Device, p.status.Err = true, err == nil, ""
	p.device = nil
	if err != nil {
		p.status.Err = "no sound device: " + err.Error()
		return
	}
	p.device = d
	// The thread that feeds the device must find a processor at once beside
	// the window's and the garbage collector's.
	runtime.GOMAXPROCS(max(runtime.GOMAXPROCS(0), runtime.NumCPU()+2))
}

// watchInterval is how soon a failed device is noticed, and how long commands
// that found the ring full may have to wait.
const watchInterval = 50 * time.Millisecond

// oftenEmpty is how often between two looks the device may find no more than it
// takes: now and then that is chance, but a buffer that is too short for what the
// device takes at a time is empty each time.
const oftenEmpty = 4

// stalled is how long a device may take no sound before it counts as lost: the
// server of some sound systems can go without a word.
const stalled = 2 * time.Second

var errStalled = errors.New("it takes no sound any more")

// ending is why a device is not watched any more.
type ending uint8

const (
	playerClosed ending = iota
	deviceFailed
	otherBuffers // were asked for
)

// watch returns when the device fails, other buffers are asked for, or the
// player is closed. Meanwhile it makes the player's buffer as long as the
// machine needs.
func (p *Player) watch(d device, profile Profile) ending {
	t := time.NewTicker(watchInterval)
	defer t.Stop()
	profile.Device = time.Duration(p.source.device.Load()) // which may be another than was asked for
	late, emptied, c := p.source.late.Load(), p.source.emptied.Load(), newCushion(profile, p.rate, p.calm, time.Now())
	for {
		select {
		case <-p.closed:
			return playerClosed
		case <-p.changed:
			return otherBuffers
		case <-t.C:
		}
		p.transport.queue.flush()
		if err := p.failure(d); err != nil {
			p.settle(nil, err)
			return deviceFailed
		}
		lateBefore, emptiedBefore := late, emptied
		late, emptied = p.source.late.Load(), p.source.emptied.Load()
		fitted := c.fit(p.source.period())
		if c.look(late > lateBefore || emptied-emptiedBefore >= oftenEmpty, time.Now()) || fitted {
			d.resize(c.frames)
			p.source.buffer.Store(int64(c.frames))
		}
	}
}

// failure tells why a device does not work.
func (p *Player) failure(d device) error {
	if err := d.err(); err != nil {
		return err
	}
	if last := p.source.last.Load(); last != 0 && time.Since(p.source.opened)-time.Duration(last) > p.stalled {
		return errStalled
	}
	return nil
}

// silently renders in time with the clock and throws the sound away, for some
// time. It reports whether the player is still open.
func (p *Player) silently(length time.Duration) bool {
	const step = 10 * time.Millisecond
	t := time.NewTicker(step)
	defer t.Stop()
	last := time.Now()
	end := last.Add(length)
	block := make([]float32, 2*p.rate/2)
	for {
		select {
		case <-p.closed:
			return false
		case now := <-t.C:
			if now.After(end) {
				return true
			}
			// The first tick may have been sent before last was read.
			n := max(0, min(toFrames(now.Sub(last).Seconds(), p.rate), int64(len(block)/2)))
			last = now
			p.transport.queue.flush()
			p.source.fill(block[:2*n])
		}
	}
}
