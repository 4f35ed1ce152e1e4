package player

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// Playing live, from keyboards and pedals outside the program. What a driver's
// thread sends here reaches the rendering side through a ring without a lock,
// so that neither side can hold the other up. The keys held this way are kept
// apart from those of the score and of the window: they can all be released at
// once when a keyboard is unplugged.

// liveEvent is one thing a player does.
type liveEvent struct {
	synth.Event
	// bar is the drawbar that a SetDrawbars moves; the others stay.
	bar uint8
	// release lets go of every key that is held live.
	release bool
}

// liveRoom is how many events may wait for the rendering side: more than ten
// fingers and two feet do in a second.
const liveRoom = 1024

// LiveKey presses or releases a key at once. It never waits, may be called
// from any thread, and takes no lock. Keys outside 0 to 127 are ignored.
func (p *Player) LiveKey(d arrange.Division, key int, down bool) {
	if key < 0 || key > 127 || d > arrange.Pedal {
		return
	}
	k := synth.KeyUp
	if down {
		k = synth.KeyDown
		p.source.strike()
	}
	p.live(liveEvent{Event: synth.Event{Kind: k, Division: synth.Division(d), Key: uint8(key)}})
}

// LiveRelease lets go of every key that was pressed by LiveKey.
func (p *Player) LiveRelease() { p.live(liveEvent{release: true}) }

// LiveDrawbar moves one drawbar, 0 to 8, and leaves the others.
func (p *Player) LiveDrawbar(d arrange.Division, bar, value int) {
	if d > arrange.Pedal || bar < 0 || bar > 8 || d == arrange.Pedal && bar > 1 {
		return
	}
	e := liveEvent{Event: synth.Event{Kind: synth.SetDrawbars, Division: synth.Division(d)}, bar: uint8(bar)}
	e.Drawbars[bar] = uint8(min(max(value, 0), project.MaxDrawbar))
	p.live(e)
}

// LiveSwell moves the expression pedal, 0 to 1.
func (p *Player) LiveSwell(v float64) {
	p.live(liveEvent{Event: synth.Event{Kind: synth.SetSwell, Value: float32(min(max(v, 0), 1))}})
}

// LiveRotary sets the speed of the speaker.
func (p *Player) LiveRotary(r project.Rotary) {
	p.live(liveEvent{Event: synth.Event{Kind: synth.SetRotary, Rotary: synth.Speed(r)}})
}

// live hands an event over. When the rendering side is so far behind that the
// ring is full, an event is lost; then every live key is released, for a key
// that hangs is worse than one that is missed.
func (p *Player) live(e liveEvent) {
	if !p.transport.live.Put(e) {
		p.transport.liveLost.Store(true)
	}
}

// playLive carries out what was played live since the last block.
func (t *transport) playLive() {
	t.fromLive = true
	for e, ok := t.live.Take(); ok; e, ok = t.live.Take() {
		t.liveEvent(&e)
	}
	if t.liveLost.Swap(false) {
		t.releaseLive()
	}
	t.fromLive = false
}

func (t *transport) liveEvent(e *liveEvent) {
	switch {
	case e.release:
		t.releaseLive()
	case e.Kind == synth.SetDrawbars:
		bars := t.drawn[e.Division]
		bars[e.bar] = e.Drawbars[e.bar]
		e.Drawbars = bars
		t.emit(e.Event)
	case e.Kind == synth.KeyDown || e.Kind == synth.KeyUp:
		if down := e.Kind == synth.KeyDown; t.liveHeld[e.Division][e.Key] != down {
			t.liveHeld[e.Division][e.Key] = down
			t.emit(e.Event)
		}
	default:
		t.emit(e.Event)
	}
}

// releaseLive lets go of the keys that are held live.
func (t *transport) releaseLive() {
	for d := range t.liveHeld {
		for key, down := range t.liveHeld[d] {
			if down {
				t.liveHeld[d][key] = false
				t.emit(synth.Event{Kind: synth.KeyUp, Division: synth.Division(d), Key: uint8(key)})
			}
		}
	}
}
