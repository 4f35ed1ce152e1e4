package player

import (
	"encoding/binary"
	"math"
	"slices"
	"sync/atomic"
	"time"

	"organbook/internal/player/ring"
)

// source is the stream of sound as the device reads it: 32-bit floats, little
// endian, left and right in turn.
type source struct {
	transport *transport
	scratch   []float32
	rate      int
	device    atomic.Int64               // length of the device's buffer, a duration
	buffer    atomic.Int64               // length of the player's, in frames
	most      atomic.Int64               // the most rendered in a read, in frames
	holds     atomic.Pointer[func() int] // frames that wait in the player's buffer; nil where that is not known
	asked     *func() int                // what told held last
	held      int                        // frames in the player's buffer, if the device has taken none since
	filled    int                        // the length of the player's buffer when it was last full
	takes     [32]atomic.Int32           // the last few amounts that the device took, in frames
	taken     atomic.Int64               // how many it took
	emptied   atomic.Int64               // how often that was all there was
	opened    time.Time
	clock     func() int64 // time after opened
	last      atomic.Int64 // time of the last read; 0 is none
	sounded   atomic.Int64 // time of the last read that could be heard; 0 is none
	struck    atomic.Int64 // time of the last key that was struck while a score played; 0 is none
	late      atomic.Int64
	missed    atomic.Int64 // those of late while something sounded, and the player's buffer was empty
	missing   atomic.Int64 // the longest time by which one of those was too late since it was looked at
	heard     atomic.Int64 // times the device's buffer ran out while something sounded
	unheard   atomic.Int64 // and while nothing did
	heardWait atomic.Int64 // the longest of heard since it was looked at, from when that buffer was full
	starved   atomic.Int64
	refill    refill
	longest   atomic.Int64 // duration of the longest read
	waited    atomic.Int64 // the longest time between two reads
	watched   atomic.Pointer[ring.Ring[Read]]
	busy      atomic.Bool
}

const frameBytes = 8

func (s *source) init(t *transport, rate int, p Profile) {
	s.transport = t
	s.opened = time.Now()
	s.clock = func() int64 { return int64(time.Since(s.opened)) }
	s.scratch = make([]float32, 2*maxBlock)
	s.rate = rate
	s.adopt(p)
}

// adopt takes over the buffers of a profile, before its device is opened.
func (s *source) adopt(p Profile) {
	s.device.Store(int64(p.Device))
	s.buffer.Store(int64(p.first(s.rate)))
	s.most.Store(int64(max(1, min(p.Read, maxBlock))))
	s.last.Store(0)
	s.holds.Store(nil)
	s.taken.Store(0)
}

// Read renders less than asked for when that is more than the profile's Read,
// so that what is rendered is never older than need be, and never more than the
// player's buffer has room for: what is there beyond delays whatever is played
// next. It never fails. In the moment in which the stream passes from one device
// to another, and both ask for it, one of them gets silence.
func (s *source) Read(p []byte) (int, error) {
	n := min(len(p)/frameBytes, int(s.most.Load()))
	if !s.busy.CompareAndSwap(false, true) {
		clear(p[:n*frameBytes])
		return n * frameBytes, nil
	}
	defer s.busy.Store(false)
	buffer := int(s.buffer.Load())
	room := s.room(buffer)
	if room > 0 {
		n = min(n, room)
	}
	s.held += n
	now := s.clock()
	s.wait(s.last.Swap(now), now, room, buffer)
	s.learn(n, room, buffer)
	if s.refill.takes(n, now, buffer) {
		s.starved.Add(1)
	}
	out := s.scratch[:2*n]
	s.transport.render(out)
	var loudest float32
	for i, v := range out {
		binary.LittleEndian.PutUint32(p[4*i:], math.Float32bits(v))
		loudest = max(loudest, v, -v)
	}
	if loudest > 0 {
		liveFirst.sound()
	}
	if loudest > audible {
		s.sounded.Store(now)
	}
	took := s.clock() - now
	if took > s.longest.Load() {
		s.longest.Store(took) // nobody else stores
	}
	if w := s.watched.Load(); w != nil && n > 0 {
		w.Put(Read{s.opened.Add(time.Duration(now)), s.transport.rendered.Load() - int64(n), n, out[0], time.Duration(took)})
	}
	return n * frameBytes, nil
}

// room is how many frames are missing in the player's buffer at least, 0 where that
// is not known. The library's answer takes a lock of its own, so it is asked only
// where what was given since would have filled the buffer, once a filling: between
// two answers the device can only have taken some more.
func (s *source) room(buffer int) int {
	holds := s.holds.Load()
	if holds == nil {
		return 0
	}
	if s.asked != holds || s.held >= buffer {
		s.asked, s.held = holds, (*holds)()
	}
	return buffer - s.held
}

// learn notes how much the device takes at a time: that is what is missing in a
// buffer that was full. A buffer that has another length than when it was full
// tells nothing.
func (s *source) learn(n, room, buffer int) {
	if room <= 0 {
		return
	}
	if s.filled == buffer {
		t := s.taken.Load()
		s.takes[t%int64(len(s.takes))].Store(int32(room))
		s.taken.Store(t + 1) // nobody else stores
		if room == buffer {
			s.emptied.Add(1)
		}
	}
	s.filled = 0
	if n == room {
		s.filled = buffer
	}
}

// period is how many frames the device takes at a time, 0 while that is not
// known: half of the last few times it was no more. It may have taken twice
// between two reads, and devices of some systems take now more, now less.
func (s *source) period() int {
	if s.taken.Load() < int64(len(s.takes)) {
		return 0
	}
	var list [len(s.takes)]int32
	for i := range list {
		list[i] = s.takes[i].Load()
	}
	slices.Sort(list[:])
	return int(list[len(list)/2])
}

// wait counts how long nobody has asked, from last to now, while room frames became
// free in the player's buffer. The device has been given those, so its own buffer has
// only had to last for the rest of that time. If room is the whole buffer, the player
// was the one who came too late, and a longer one would have helped.
func (s *source) wait(last, now int64, room, buffer int) {
	if last == 0 {
		return
	}
	waited := now - last
	if waited > s.waited.Load() {
		s.waited.Store(waited) // nobody else stores
	}
	sounded := s.sounded.Load() == last
	if unfed := waited - s.duration(max(0, room)); unfed > s.device.Load() {
		if sounded {
			s.heard.Add(1)
			s.heardWait.Store(max(s.heardWait.Load(), unfed))
		} else {
			s.unheard.Add(1)
		}
	}
	if over := waited - int64(s.patience()); over > 0 {
		s.late.Add(1)
		if sounded && (room <= 0 || room >= buffer) {
			s.missing.Store(max(s.missing.Load(), over))
			s.missed.Add(1)
		}
		s.refill = refill{on: true}
	}
}

// duration is how long frames last, in nanoseconds.
func (s *source) duration(frames int) int64 {
	return int64(frames) * int64(time.Second) / int64(s.rate)
}

// audible is the amplitude under which a tail is silence: −60 dBFS.
const audible = 0.001

// strike notes that a key is struck live. Any thread may call it.
func (s *source) strike() {
	if s.transport.state.Load()&1 == 1 {
		s.struck.Store(max(1, s.clock()))
	}
}

// playedAlong reports whether somebody plays keys along with the score.
func (s *source) playedAlong() bool {
	at := s.struck.Load()
	return at > 0 && time.Duration(s.clock()-at) < playsAlong
}

// counts are what a watcher looks at for changes.
type counts struct{ missed, emptied, heard, unheard int64 }

func (s *source) counted() counts {
	return counts{s.missed.Load(), s.emptied.Load(), s.heard.Load(), s.unheard.Load()}
}

// quiet is how long nothing has been heard.
func (s *source) quiet() time.Duration { return time.Duration(s.clock() - s.sounded.Load()) }

// refill looks at the reads after a late one, to tell its two causes apart. A
// player that has been kept waiting, with nothing left to give, asks for its
// whole buffer at once. A device that had merely stopped taking sound, because
// its server was kept waiting, asks for no more than what it took.
type refill struct {
	on     bool
	frames int
	last   int64
}

// breath is a pause between reads in which a buffer counts as full.
const breath = int64(5 * time.Millisecond)

// takes counts a read of n frames at a time, and reports whether it is the one
// that fills a buffer that was empty.
func (r *refill) takes(n int, now int64, buffer int) bool {
	if !r.on {
		return false
	}
	if r.frames > 0 && now-r.last > breath {
		r.on = false
		return false
	}
	r.frames += n
	r.last = now
	if r.frames < buffer {
		return false
	}
	r.on = false
	return true
}

// patience is how long the buffers last.
func (s *source) patience() time.Duration {
	return time.Duration(s.device.Load() + s.duration(int(s.buffer.Load())))
}

// fill renders where there is no device, or gives silence while one still asks.
func (s *source) fill(out []float32) {
	if !s.busy.CompareAndSwap(false, true) {
		clear(out)
		return
	}
	s.transport.render(out)
	s.busy.Store(false)
}
