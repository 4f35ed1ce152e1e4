package player

import (
	"sync"

	"organbook/internal/arrange"
	"organbook/internal/player/ring"
	"organbook/internal/project"
	"organbook/internal/synth"
)

// A division may sound outside the program, on an organ that is played through
// a MIDI port, beside its own sound or in its place. The rendering side notes
// what happens on such divisions; whoever sends it on asks for it as it comes
// to be heard, so that both instruments speak together.

// Outside is one thing that happens on a division that sounds outside.
type Outside struct {
	Kind     OutsideKind
	Division arrange.Division
	Key      int
	// Value is the expression pedal, 0 to 1.
	Value float64
	// Registration is what OutsideStops draws; it is not to be changed.
	Registration *project.Registration
	frame        int64
}

// OutsideKind says what an Outside does.
type OutsideKind uint8

// The kinds.
const (
	OutsideDown OutsideKind = iota
	OutsideUp
	// OutsideSwell moves the expression pedal of the division.
	OutsideSwell
	// OutsideRelease lets go of every key of the division.
	OutsideRelease
	// OutsideStops: the score comes to another registration.
	OutsideStops
)

// Place says where a division sounds.
type Place uint8

// The places.
const (
	// Here is the program's own sound, the usual place.
	Here Place = iota
	// Both is the program's own sound and an organ outside.
	Both
	// Away is an organ outside alone.
	Away
)

// outsideRoom is how much may happen outside within the delay of a device.
const outsideRoom = 4096

// outside is the reader's side of what happens outside.
type outside struct {
	mu   sync.Mutex
	next Outside
	has  bool
}

// SetPlaces says where each division sounds, upper first. Keys that are down
// are released and those of the score pressed again.
func (p *Player) SetPlaces(places [synth.Divisions]Place) {
	p.transport.queue.send(command{action: doPlaces, places: places})
}

// TakeOutside copies what has become audible on divisions that sound outside
// since the last call, oldest first, and returns how many there are. It does
// not wait.
func (p *Player) TakeOutside(into []Outside) int {
	p.transport.queue.flush()
	p.mu.Lock()
	heard := p.heard()
	p.mu.Unlock()
	o := &p.outside
	o.mu.Lock()
	defer o.mu.Unlock()
	n := 0
	for n < len(into) {
		if !o.has {
			if o.next, o.has = p.transport.outside.Take(); !o.has {
				break
			}
		}
		if o.next.frame > heard {
			break
		}
		into[n], o.has = o.next, false
		n++
	}
	return n
}

// setPlaces lets go of everything and takes up the new places.
func (t *transport) setPlaces(places [synth.Divisions]Place) {
	t.audition.end(t)
	t.emit(synth.Event{Kind: synth.AllNotesOff})
	t.held, t.liveHeld = [synth.Divisions][128]uint8{}, [synth.Divisions][128]bool{}
	t.places = places
	if t.playing && !t.counting {
		t.chase(false)
	}
}

// route notes what sounds outside and reports whether an event is also for the
// program's own instrument.
func (t *transport) route(ev *synth.Event) bool {
	switch ev.Kind {
	case synth.KeyDown, synth.KeyUp:
		kind := OutsideDown
		if ev.Kind == synth.KeyUp {
			kind = OutsideUp
		}
		t.sendOut(ev, kind, ev.Division)
		return ev.Kind == synth.KeyUp || t.places[ev.Division] != Away
	case synth.SetSwell, synth.AllNotesOff:
		kind := OutsideSwell
		if ev.Kind == synth.AllNotesOff {
			kind = OutsideRelease
		}
		for d := range synth.Division(synth.Divisions) {
			t.sendOut(ev, kind, d)
		}
	}
	return true
}

// sendOut notes an event of a division that sounds outside. What is played
// live is not noted: its way out must be shorter than that of the sound.
func (t *transport) sendOut(ev *synth.Event, kind OutsideKind, d synth.Division) {
	if t.places[d] == Here || t.fromLive && kind != OutsideRelease {
		return
	}
	t.noteOut(Outside{Kind: kind, Division: arrange.Division(d), Key: int(ev.Key), Value: float64(ev.Value), frame: t.stream + ev.Frame})
}

// noteOut keeps what happens outside until it is taken. When nobody takes it, it
// is lost; then every key is released as soon as there is room, for a key that
// hangs is worse than one that is missed.
func (t *transport) noteOut(o Outside) {
	if !t.outside.Put(o) {
		t.outsideLost = true
	}
}

// mendOutside releases everything outside after a loss.
func (t *transport) mendOutside() {
	if !t.outsideLost {
		return
	}
	t.outsideLost = false
	for d := range t.places {
		t.noteOut(Outside{Kind: OutsideRelease, Division: arrange.Division(d), frame: t.stream})
	}
}

// draw notes a registration that the score comes to, nil for none, on divisions
// that sound outside.
func (t *transport) draw(r *project.Registration, offset int64) {
	if r == nil {
		return
	}
	for d, place := range t.places {
		if place != Here {
			t.noteOut(Outside{Kind: OutsideStops, Division: arrange.Division(d), Registration: r, frame: t.stream + offset})
		}
	}
}

func newOutside() *ring.Ring[Outside] { return ring.New[Outside](outsideRoom) }
