package midi

import (
	"io"
	"sync"
	"sync/atomic"
	"time"

	"organbook/internal/arrange"
	"organbook/internal/player"
	"organbook/internal/player/ring"
	"organbook/internal/project"
)

// Instrument is what is played: a player.Player. No method waits.
type Instrument interface {
	LiveKey(d arrange.Division, key int, down bool)
	LiveDrawbar(d arrange.Division, bar, value int)
	LiveSwell(v float64)
	LiveRotary(r project.Rotary)
	SetPlaces(places [3]player.Place)
	TakeOutside(into []player.Outside) int
}

// Event is what a window is told of.
type Event struct {
	When time.Time
	Kind EventKind
	// Division, Key and Velocity (1 to 127) are those of a key.
	Division arrange.Division
	Key      int
	Velocity uint8
	// Control is what was moved, pressed or learned, Value (0 to 127) where it
	// stands, and Controller what moved it.
	Control    Control
	Value      uint8
	Controller Controller
	// Target, Channel (1 to 16) and Port are what was learned of a keyboard.
	Target  Target
	Channel uint8
	Port    string
}

// EventKind says what an Event tells.
type EventKind uint8

// The kinds.
const (
	KeyPressed EventKind = iota
	KeyReleased
	// Moved: a control that is no switch was moved.
	Moved
	// Pressed: a switch was pressed.
	Pressed
	// Learned: Controller is to work Control from now on.
	Learned
	// KeyboardLearned: Channel of Port is to play Target from now on.
	KeyboardLearned
	// PortsChanged: the State differs.
	PortsChanged
	// Lost: events were lost; keys that seem to be held may be up.
	Lost
)

// Hub connects keyboards and organs outside with an instrument.
type Hub struct {
	system     System
	instrument Instrument
	scan       time.Duration

	events  *ring.Ring[Event]
	lost    atomic.Bool
	told    atomic.Bool // the window has been told and has not taken yet
	tell    atomic.Pointer[func()]
	plan    atomic.Pointer[plan]
	learn   atomic.Uint32 // what is learned: a learning
	retry   atomic.Bool   // ports that did not open are to be tried again
	wake    chan struct{}
	closing chan struct{}
	ended   chan struct{}
	once    sync.Once

	mu    sync.Mutex // around setup and state; never held while a driver is called
	setup Setup
	state State

	// Only the hub's goroutine uses what follows.
	inputs  map[string]*input
	outputs map[string]*sender
	failed  map[string]*failure
	owed    map[string]*debts // of outputs
	placed  [3]player.Place
}

// scanInterval is how soon a port that was plugged in or out is noticed, unless
// looking takes long: it may take one part in scanShare of the time.
const (
	scanInterval = 250 * time.Millisecond
	scanShare    = 50
)

// eventRoom is how much a window may leave untaken.
const eventRoom = 2048

// New starts a hub on a system's ports.
func New(system System, instrument Instrument, setup Setup) *Hub {
	return start(system, instrument, setup, scanInterval)
}

func start(system System, instrument Instrument, setup Setup, scan time.Duration) *Hub {
	h := &Hub{
		system: system, instrument: instrument, scan: scan, setup: setup,
		events: ring.New[Event](eventRoom), wake: make(chan struct{}, 1), closing: make(chan struct{}), ended: make(chan struct{}),
		inputs: map[string]*input{}, outputs: map[string]*sender{}, failed: map[string]*failure{}, owed: map[string]*debts{},
	}
	h.plan.Store(newPlan(setup, nil))
	go h.run()
	go h.pump()
	return h
}

// closePatience is how long Close waits for organs outside to be silenced. A
// driver that hangs must not keep the program from ending.
const closePatience = 300 * time.Millisecond

// Close releases everything and lets go of the ports. It waits for a moment at
// most, whatever the driver does.
func (h *Hub) Close() {
	h.once.Do(func() { close(h.closing) })
	select {
	case <-h.ended:
	case <-time.After(closePatience):
	}
}

// OnEvents sets what is called, on any goroutine, when there is something to
// take after everything had been taken. It must return at once.
func (h *Hub) OnEvents(tell func()) { h.tell.Store(&tell) }

// Take copies events, oldest first, and returns how many. Only one goroutine
// may call it.
func (h *Hub) Take(into []Event) (n int) {
	h.told.Store(false)
	if h.lost.Swap(false) && len(into) > 0 {
		into[0], n = Event{Kind: Lost}, 1
	}
	for n < len(into) {
		e, ok := h.events.Take()
		if !ok {
			return n
		}
		into[n] = e
		n++
	}
	return n
}

// note keeps an event for the window.
func (h *Hub) note(e Event) {
	if !h.events.Put(e) {
		h.lost.Store(true)
	}
	if tell := h.tell.Load(); tell != nil && !h.told.Swap(true) {
		(*tell)()
	}
}

// Setup returns what is chosen.
func (h *Hub) Setup() Setup {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.setup
}

// SetSetup chooses anew; ports are opened and closed beside the caller. Keys
// that are held keep playing what they were pressed for.
func (h *Hub) SetSetup(s Setup) {
	h.mu.Lock()
	h.setup = s
	h.mu.Unlock()
	h.take(newPlan(s, h.plan.Load().senders))
	h.retry.Store(true)
	h.Look()
}

// take makes a plan the one in force. Divisions that leave an organ let go of
// it.
func (h *Hub) take(next *plan) {
	before := h.plan.Swap(next)
	for d, old := range before.routes {
		if old != next.routes[d] {
			old.release()
		}
	}
}

// sendOut sends a message where a plan has a division. A key that goes out while
// the division leaves that organ for another, in the moment between reading the
// plan and this, would come after the division's release and stay down; so it
// is let go of again.
func (h *Hub) sendOut(p *plan, d arrange.Division, m Message) {
	to := p.routes[d]
	if to.sender == nil {
		return
	}
	m.Channel = to.channel
	to.sender.put(outMessage{m: m})
	if m.Status == NoteOn && h.plan.Load().routes[d] != to {
		to.sender.put(outMessage{m: Message{NoteOff, to.channel, m.A, 64}})
	}
}

// Look asks the hub's goroutine to look after the ports now.
func (h *Hub) Look() {
	select {
	case h.wake <- struct{}{}:
	default:
	}
}

// Silence releases every key on the organs outside; the instrument is released
// by its own means.
func (h *Hub) Silence() {
	for _, to := range h.plan.Load().routes {
		to.release()
	}
}

func (h *Hub) run() {
	defer close(h.ended)
	t := time.NewTimer(0)
	defer t.Stop()
	for {
		began := time.Now()
		h.lookAfterPorts()
		t.Reset(max(h.scan, scanShare*time.Since(began)))
		select {
		case <-h.closing:
			h.closeAll()
			return
		case <-t.C:
		case <-h.wake:
		}
	}
}

// input is an open input port.
type input struct {
	keys   keys
	port   io.Closer
	count  atomic.Uint64
	latest atomic.Uint32 // the last message, as pack has it
}

// lookAfterPorts opens what is there and wanted, and closes the rest.
func (h *Hub) lookAfterPorts() {
	setup := h.Setup()
	ins, outs, err := h.system.Ports()
	if h.retry.Swap(false) {
		clear(h.failed)
	}
	h.dropInputs(setup, ins)
	dropped := h.dropOutputs(setup, outs)
	h.openInputs(setup, ins)
	h.openOutputs(setup, outs)
	h.collect()
	h.place(setup)
	for _, s := range dropped {
		s.end()
	}
	h.publish(setup, ins, outs, err)
}

func (h *Hub) dropInputs(setup Setup, there []string) {
	for name, in := range h.inputs {
		if !has(there, name) || setup.Rule(name).Off {
			in.port.Close()
			in.keys.release()
			delete(h.inputs, name)
		}
	}
	h.forget(there, "in ")
}

// forget lets a port that is gone be tried again when it comes back.
func (h *Hub) forget(there []string, direction string) {
	for name := range h.failed {
		if len(name) > len(direction) && name[:len(direction)] == direction && !has(there, name[len(direction):]) {
			delete(h.failed, name)
		}
	}
}

func (h *Hub) openInputs(setup Setup, there []string) {
	for _, name := range there {
		if h.inputs[name] != nil || setup.Rule(name).Off || h.waits("in "+name) {
			continue
		}
		in := &input{keys: keys{hub: h, port: name}}
		port, err := h.system.OpenInput(name, in.receive)
		if err != nil {
			h.fail("in "+name, err.Error())
			continue
		}
		h.mended("in " + name)
		in.port = port
		h.inputs[name] = in
	}
}

func (in *input) receive(b []byte) {
	m, ok := Read(b)
	if !ok {
		return
	}
	in.count.Add(1)
	in.latest.Store(m.pack())
	in.keys.play(m)
}

func (h *Hub) closeAll() {
	for name, in := range h.inputs {
		in.port.Close()
		in.keys.release()
		delete(h.inputs, name)
	}
	for _, s := range h.outputs {
		s.end()
	}
	for name, s := range h.outputs {
		<-s.done // the program may end as soon as the hub has
		delete(h.outputs, name)
	}
}

func has(list []string, name string) bool {
	for _, s := range list {
		if s == name {
			return true
		}
	}
	return false
}
