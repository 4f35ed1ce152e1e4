package player

import (
	"math"
	"sync/atomic"

	"organbook/internal/perform"
	"organbook/internal/player/ring"
	"organbook/internal/synth"
)

// transport is the rendering side: it walks through the score and feeds the
// instrument. Only one goroutine may call render at a time.
type transport struct {
	engine synth.Engine
	queue  queue
	batch  []synth.Event // of the block being rendered, by frame
	stream int64         // frames rendered so far

	score   *score
	playing bool
	cursor  int64 // frame of the score that is rendered next
	event   int   // first event of the score not yet taken
	tick    int
	ticks   bool // the metronome is on
	soft    bool // keys and drawbars fade, for another score takes over
	mute    perform.LayerSet
	loop    struct {
		on       bool
		from, to int64
	}
	counting   bool   // the cursor runs up to start
	countIn    []tick // still to come
	start      int64  // where the hands begin
	held       [synth.Divisions][128]uint8
	wanted     [synth.Divisions][128]uint8
	generation uint64
	audition   audition

	live     *ring.Ring[liveEvent]
	liveLost atomic.Bool
	liveHeld [synth.Divisions][128]bool
	fromLive bool                            // what is emitted was played live
	drawn    [synth.Divisions]synth.Drawbars // the drawbars as last set
	places   [synth.Divisions]Place
	outside  *ring.Ring[Outside]
	// outsideLost: outside was full, and keys may hang there.
	outsideLost bool

	// Published for the caller's side.
	timeline timeline
	rendered atomic.Int64  // frames of the stream
	hold     atomic.Int64  // the frame of the stream until which a doPlay waits; 0 is none
	state    atomic.Uint64 // generation·2, plus 1 while playing
	peak     atomic.Uint32 // bits of the greatest amplitude since it was read
}

// maxBlock is the longest stretch rendered at a time, in frames.
const maxBlock = 256

func (t *transport) init(c synth.Config) error {
	t.batch = make([]synth.Event, 0, 2048)
	t.live, t.outside = ring.New[liveEvent](liveRoom), newOutside()
	t.score = &score{}
	t.timeline.mark(0, 0, false)
	return t.engine.Init(c)
}

// render fills out, interleaved stereo.
func (t *transport) render(out []float32) {
	t.mendOutside()
	t.obey()
	t.playLive()
	for len(out) > 0 {
		n := t.prepare(min(int64(len(out)/2), maxBlock))
		t.engine.Render(out[:2*n], t.batch)
		t.batch = t.batch[:0]
		t.measure(out[:2*n])
		out = out[2*n:]
		t.advance(n)
	}
	t.rendered.Store(t.stream)
}

// prepare collects the events of up to n frames and returns for how many.
func (t *transport) prepare(n int64) int64 {
	n = t.audition.until(n)
	if !t.playing {
		return n
	}
	if t.counting {
		n = min(n, t.start-t.cursor)
		t.count(n)
		return n
	}
	if end := t.end(); end > t.cursor {
		n = min(n, end-t.cursor)
	}
	return t.gather(n)
}

// end is the frame at which playing turns back or stops.
func (t *transport) end() int64 {
	if t.looping() {
		return t.turn()
	}
	return t.score.frames
}

// turn is where the loop turns back: at its end, or at the score's if that
// has become shorter.
func (t *transport) turn() int64 { return min(t.loop.to, t.score.frames) }

// looping reports whether the cursor will come to the loop's turn.
func (t *transport) looping() bool {
	return t.loop.on && t.loop.from < t.turn() && t.cursor <= t.turn()
}

// count collects the clicks of the count-in.
func (t *transport) count(n int64) {
	for len(t.countIn) > 0 && t.countIn[0].frame < t.cursor+n {
		c := t.countIn[0]
		t.countIn = t.countIn[1:]
		t.emit(click(c, c.frame-t.cursor))
	}
}

// gather collects the score's events and clicks in the order of time. A batch
// that is full ends the block early.
func (t *transport) gather(n int64) int64 {
	s := t.score
	for {
		at := t.cursor + n
		isTick := false
		if t.event < len(s.events) && s.events[t.event].Frame < at {
			at = s.events[t.event].Frame
		}
		if t.tick < len(s.ticks) && s.ticks[t.tick].frame < at {
			at, isTick = s.ticks[t.tick].frame, true
		}
		if at >= t.cursor+n {
			return n
		}
		offset := max(0, at-t.cursor)
		if len(t.batch) == cap(t.batch) {
			return offset
		}
		if isTick {
			if t.ticks {
				t.emit(click(s.ticks[t.tick], offset))
			}
			t.tick++
			continue
		}
		t.take(&s.events[t.event], offset)
		t.event++
	}
}

// take emits an event of the score unless its layer is muted.
func (t *transport) take(n *note, offset int64) {
	if n.isKey() {
		if t.mute.Has(n.layer) {
			return
		}
		h := &t.held[n.Division][n.Key]
		if n.Kind == synth.KeyUp && *h == 0 {
			return
		}
		count(h, n.Kind)
	}
	t.draw(n.registration, offset)
	ev := n.Event
	ev.Frame = offset
	t.emit(ev)
}

// count keeps how often a key is held down.
func count(held *uint8, k synth.Kind) {
	switch {
	case k == synth.KeyDown && *held < 255:
		*held++
	case k == synth.KeyUp && *held > 0:
		*held--
	}
}

func click(c tick, offset int64) synth.Event {
	return synth.Event{Frame: offset, Kind: synth.Tick, Value: c.weight}
}

// emit puts an event into the batch. A full batch of events that act at once
// is handed to the engine without rendering.
func (t *transport) emit(ev synth.Event) {
	ev.Soft = t.soft
	if !t.route(&ev) {
		return
	}
	if ev.Kind == synth.SetDrawbars {
		t.drawn[ev.Division] = ev.Drawbars
	}
	if len(t.batch) == cap(t.batch) {
		t.engine.Render(nil, t.batch)
		t.batch = t.batch[:0]
	}
	t.batch = append(t.batch, ev)
}

// advance moves on by n rendered frames.
func (t *transport) advance(n int64) {
	t.stream += n
	t.audition.advance(t, n)
	if !t.playing {
		return
	}
	t.cursor += n
	switch {
	case t.counting:
		if t.cursor >= t.start {
			t.counting = false
			t.chase(false)
		}
	case t.looping() && t.cursor == t.turn():
		t.jump(t.loop.from)
	case t.cursor >= t.score.frames:
		t.halt()
		t.state.CompareAndSwap(t.generation<<1|1, t.generation<<1)
	}
}

// jump goes on from another frame of the score.
func (t *transport) jump(to int64) {
	t.cursor, t.start, t.counting, t.countIn = to, to, false, nil
	t.chase(true)
	t.timeline.mark(t.stream, to, t.playing)
}

// halt stops playing and lets go of the keys the score holds.
func (t *transport) halt() {
	t.playing, t.counting, t.countIn = false, false, nil
	t.wanted = [synth.Divisions][128]uint8{}
	t.settle()
	t.cursor = max(t.start, min(t.cursor, t.score.frames))
	t.timeline.mark(t.stream, t.cursor, false)
}

// chase brings the instrument to where the score has it at the cursor: the
// settings made before, and the keys held over it.
func (t *transport) chase(settings bool) {
	t.wanted = [synth.Divisions][128]uint8{}
	s := t.score
	t.event, t.tick = 0, 0
	for ; t.event < len(s.events) && s.events[t.event].Frame < t.cursor; t.event++ {
		n := &s.events[t.event]
		switch {
		case !n.isKey():
			if settings {
				t.draw(n.registration, 0)
				ev := n.Event
				ev.Frame = 0
				t.emit(ev)
			}
		case !t.mute.Has(n.layer):
			count(&t.wanted[n.Division][n.Key], n.Kind)
		}
	}
	for t.tick < len(s.ticks) && s.ticks[t.tick].frame < t.cursor {
		t.tick++
	}
	t.settle()
}

// settle presses and releases keys until the score's hands hold what is wanted.
func (t *transport) settle() {
	for d := range t.held {
		for key := range t.held[d] {
			ev := synth.Event{Division: synth.Division(d), Key: uint8(key)}
			for h := &t.held[d][key]; *h != t.wanted[d][key]; {
				ev.Kind = synth.KeyDown
				if *h > t.wanted[d][key] {
					ev.Kind = synth.KeyUp
				}
				count(h, ev.Kind)
				t.emit(ev)
			}
		}
	}
}

// measure keeps the greatest amplitude until it is read. The bits of floats
// that are not negative order as the floats do.
func (t *transport) measure(out []float32) {
	var most float32
	for _, v := range out {
		most = max(most, v, -v)
	}
	bits := math.Float32bits(most)
	for {
		old := t.peak.Load()
		if bits <= old || t.peak.CompareAndSwap(old, bits) {
			return
		}
	}
}
