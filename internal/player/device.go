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

// opener finds a device and starts it on a source, which adopts the buffers when
// they are there: until then it may feed the device before.
type opener func(s *source, rate int, p Profile) (device, error)

// retryInterval is how soon a device that is missing or lost is looked for
// again.
const retryInterval = 2 * time.Second

// run opens the device, watches over it, stands in for it with a timer while
// there is none, and looks for it again now and then. Where other buffers are
// wanted, the device sounds until it is open with those.
func (p *Player) run(open opener) {
	defer close(p.ended)
	var before device
	for {
		profile := p.asked()
		d, err := open(&p.source, p.rate, profile)
		if before != nil {
			before.close(false)
			before = nil
		}
		p.settle(d, profile, err)
		if err == nil {
			end := p.watch(d, profile)
			if end == otherBuffers {
				before = d
				continue
			}
			d.close(end == deviceFailed)
		}
		if !p.silently(p.retry) {
			return
		}
	}
}

// asked returns the buffers that were asked for last, or chosen.
func (p *Player) asked() Profile {
	p.mu.Lock()
	defer p.mu.Unlock()
	select {
	case <-p.changed:
	default:
	}
	if p.profile.Automatic {
		return p.chooser.profile()
	}
	return p.profile
}

// SetProfile changes the buffers between the instrument and the ear, at once:
// the device is opened anew with them, where it can be a second time, which
// takes a moment of silence. Where it cannot, its own buffer stays as long as
// it is until the program ends, and only the player's changes. An automatic
// choice that is chosen, again too, forgets what it has learned.
func (p *Player) SetProfile(to Profile) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.profile == to && !to.Automatic {
		return
	}
	again, before := p.profile == to, p.chooser.profile()
	p.profile = to
	if to.Automatic {
		p.chooser.forget()
	}
	if !again || p.chooser.profile() != before {
		p.askAnew()
	}
}

// askAnew has the device opened with the buffers that are wanted now.
func (p *Player) askAnew() {
	select {
	case p.changed <- struct{}{}:
	default:
	}
}

func (p *Player) settle(d device, with Profile, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.transport.hold.Store(0) // what waited for these buffers
	if err != nil && p.status.Device {
		p.status.Lost++
	}
	p.status.Settled, p.status.Device, p.status.Err = true, err == nil, ""
	p.device = nil
	if err != nil {
		p.status.Err = "no sound device: " + err.Error()
		return
	}
	p.device, p.status.Buffers = d, with
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

// watch returns when the device fails, other buffers are asked for or chosen, or
// the player is closed. Meanwhile it makes the player's buffer as long as the
// machine needs.
func (p *Player) watch(d device, profile Profile) ending {
	t := time.NewTicker(watchInterval)
	defer t.Stop()
	w := p.newWatcher(d, profile, time.Now())
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
			p.settle(nil, Profile{}, err)
			return deviceFailed
		}
		if w.look(time.Now()) {
			return otherBuffers
		}
	}
}

// watcher looks now and then how a device is served, and fits the buffers.
type watcher struct {
	p       *Player
	d       device
	seen    counts
	cushion cushion
}

func (p *Player) newWatcher(d device, profile Profile, now time.Time) *watcher {
	profile.Device = time.Duration(p.source.device.Load()) // which may be another than was asked for
	return &watcher{p: p, d: d, seen: p.source.counted(), cushion: newCushion(profile, p.rate, p.calm, now)}
}

// look makes the player's buffer as long as it should be, and reports whether the
// device should be opened anew with others.
func (w *watcher) look(now time.Time) (otherwise bool) {
	s := &w.p.source
	before, c := w.seen, s.counted()
	w.seen = c
	fitted := w.cushion.fit(s.period())
	missing := 0
	if c.missed > before.missed || c.emptied-before.emptied >= oftenEmpty {
		missing = max(1, int(toFrames(time.Duration(s.missing.Swap(0)).Seconds(), w.p.rate)))
	}
	if w.cushion.look(missing, now) || fitted {
		w.d.resize(w.cushion.frames)
		s.buffer.Store(int64(w.cushion.frames))
	}
	w.p.mu.Lock()
	defer w.p.mu.Unlock()
	return w.p.profile.Automatic && w.p.chooser.look(served{
		heard: int(c.heard - before.heard), unheard: int(c.unheard - before.unheard),
		longest: time.Duration(s.heardWait.Swap(0)), quiet: s.quiet(), playing: w.p.Playing(),
	}, now)
}

// failure tells why a device does not work.
func (p *Player) failure(d device) error {
	if err := d.err(); err != nil {
		return err
	}
	if last := p.source.last.Load(); last != 0 && time.Duration(p.source.clock()-last) > p.stalled {
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
