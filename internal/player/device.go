package player

import (
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
	close()
}

// opener finds a device and starts it on a source.
type opener func(s *source, rate int, p Profile) (device, error)

// retryInterval is how soon a device that is missing or lost is looked for
// again.
const retryInterval = 2 * time.Second

// run opens the device, watches over it, stands in for it with a timer while
// there is none, and looks for it again now and then.
func (p *Player) run(open opener, profile Profile) {
	defer close(p.ended)
	for {
		p.source.last.Store(0)
		d, err := open(&p.source, p.rate, profile)
		p.settle(d, err)
		if err == nil {
			p.watch(d, profile.Buffer)
			d.close()
		}
		if !p.silently(p.retry) {
			return
		}
	}
}

func (p *Player) settle(d device, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
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

// watch returns when the device fails or the player is closed. Each time the
// device was kept waiting it lengthens the buffer, up to that of
// PlaybackProfile: a machine too busy for quick answers shall at least play
// without gaps.
func (p *Player) watch(d device, buffer int) {
	t := time.NewTicker(watchInterval)
	defer t.Stop()
	late := p.source.late.Load()
	for {
		select {
		case <-p.closed:
			return
		case <-t.C:
		}
		p.transport.queue.flush()
		if err := d.err(); err != nil {
			p.settle(nil, err)
			return
		}
		if now := p.source.late.Load(); now > late && buffer < PlaybackProfile.Buffer {
			late, buffer = now, min(2*buffer, PlaybackProfile.Buffer)
			d.resize(buffer)
			p.source.buffer.Store(int64(buffer))
		}
	}
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
