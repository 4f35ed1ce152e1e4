package player

import "organbook/internal/synth"

// obey carries out the commands that have arrived.
func (t *transport) obey() {
	for c := t.queue.next(); c != nil; c = t.queue.next() {
		if c.action == doPlay && t.stream < t.hold.Load() {
			return
		}
		t.do(c)
		c.score, c.countIn = nil, nil // let go of what is no longer used
		t.queue.done()
	}
}

// holdPlay has the next doPlay, and what comes after it, wait until hold is 0, which
// is when the device has the buffers it is to begin with; at most for some frames.
func (t *transport) holdPlay(most int64) { t.hold.Store(t.rendered.Load() + most) }

func (t *transport) do(c *command) {
	switch c.action {
	case doLoad:
		t.load(c)
	case doPlay:
		t.play(c)
	case doStop:
		t.generation = c.generation
		t.halt()
	case doSeek:
		t.seek(c.at)
	case doLoop:
		t.loop.on, t.loop.from, t.loop.to = c.on, c.at, c.to
	case doMute:
		t.mute = c.mute
		if t.playing && !t.counting {
			t.chase(false)
		}
	case doTicks:
		t.ticks = c.on
	case doEvents:
		for _, ev := range c.events[:c.count] {
			t.emit(ev)
		}
	case doAudition:
		t.audition.begin(t, c)
	case doRelease:
		t.audition.end(t)
	case doPanic:
		t.panic(c)
	case doPlaces:
		t.setPlaces(c.places)
	}
}

// load replaces the score. While playing, the instrument fades over to the
// new one at the given frame: keys that both hold go on sounding.
func (t *transport) load(c *command) {
	t.score = c.score
	t.soft = true
	t.seek(c.at)
	t.soft = false
}

func (t *transport) play(c *command) {
	t.generation = c.generation
	t.playing = true
	t.jump(min(c.at, t.score.frames))
	if len(c.countIn) == 0 {
		return
	}
	// The hands wait while the count-in runs.
	t.wanted = [synth.Divisions][128]uint8{}
	t.settle()
	t.counting, t.countIn, t.cursor = true, c.countIn, min(t.start, c.countIn[0].frame)
	t.timeline.mark(t.stream, t.cursor, true)
}

func (t *transport) seek(at int64) {
	at = max(0, min(at, t.score.frames))
	if t.playing {
		t.jump(at)
		return
	}
	t.cursor, t.start, t.counting, t.countIn = at, at, false, nil
	t.timeline.mark(t.stream, at, false)
}

// panic lets go of everything, whoever holds it.
func (t *transport) panic(c *command) {
	t.generation = c.generation
	t.audition.end(t)
	t.halt()
	t.emit(synth.Event{Kind: synth.AllNotesOff})
	t.liveHeld = [synth.Divisions][128]bool{}
}
