package player

import (
	"sync"
	"sync/atomic"

	"organbook/internal/perform"
	"organbook/internal/synth"
)

// action says what a command asks of the rendering side.
type action uint8

const (
	doLoad     action = iota // score, at: replace the score, keep playing from at if playing
	doPlay                   // at, countIn, generation
	doStop                   // generation
	doSeek                   // at
	doLoop                   // at, to, on
	doMute                   // mute
	doTicks                  // on
	doEvents                 // events[:count], at once
	doAudition               // keys[:count], events[:settings] first, frames
	doRelease                // end the audition
	doPanic                  // all keys up, generation
	doPlaces                 // places
)

// maxAudition is how many keys an audition can hold: two hands and two feet.
const maxAudition = 24

// command is one request. It holds what it needs by value, or by reference to
// what is never changed again, so that the rendering side neither allocates
// nor shares anything.
type command struct {
	action     action
	on         bool
	at, to     int64
	score      *score
	countIn    []tick
	mute       perform.LayerSet
	generation uint64
	events     [settings]synth.Event
	settings   int
	keys       [maxAudition]Key
	count      int
	frames     int64
	places     [synth.Divisions]Place
}

// queue carries commands from any number of senders to the one rendering
// side. The ring is lock-free between the two: written is moved by senders
// only (who take turns under the mutex), taken by the rendering side only.
// Commands that find the ring full wait in the backlog for the next send or
// flush; none is lost and their order stays.
type queue struct {
	ring           [256]command
	written, taken atomic.Uint64

	senders sync.Mutex
	backlog []command
}

// send hands a command over.
func (q *queue) send(c command) {
	q.senders.Lock()
	defer q.senders.Unlock()
	q.backlog = append(q.backlog, c)
	q.drainBacklog()
}

// flush moves on what waits in the backlog.
func (q *queue) flush() {
	q.senders.Lock()
	defer q.senders.Unlock()
	q.drainBacklog()
}

func (q *queue) drainBacklog() {
	w := q.written.Load()
	n := 0
	for n < len(q.backlog) && w-q.taken.Load() < uint64(len(q.ring)) {
		q.ring[w%uint64(len(q.ring))] = q.backlog[n]
		w++
		n++
		q.written.Store(w)
	}
	rest := copy(q.backlog, q.backlog[n:])
	clear(q.backlog[rest:])
	q.backlog = q.backlog[:rest]
}

// next returns the oldest command, to be released by done; nil when there is
// none. Only the rendering side calls it.
func (q *queue) next() *command {
	t := q.taken.Load()
	if t == q.written.Load() {
		return nil
	}
	return &q.ring[t%uint64(len(q.ring))]
}

func (q *queue) done() { q.taken.Add(1) }
