package ui

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"

	"organbook/internal/player/midi"
	"organbook/internal/project"
	"organbook/internal/ui/command"
	"organbook/internal/ui/session"
	"organbook/internal/ui/shelf"
)

// keyboards is the window's side of keyboards and organs outside: it takes
// what the hub tells and passes it to session and panels. The sound of a key
// does not come this way; it has long begun.
type keyboards struct {
	w   *Window
	hub *midi.Hub // nil when the window has none

	letters  letters
	counts   map[string]uint64 // messages of each port when they were last looked at
	lit      map[string]bool   // ports with a mark of activity
	known    map[string]bool   // inputs at the last look and whether they were open, nil at first
	flash    int               // counts the marks, so that an older one's end is ignored
	metering int               // counts the looks at the meter likewise
	resting  int               // counts the movements of faders likewise
}

const (
	// flashTime is how long the mark of activity stays.
	flashTime = 250 * time.Millisecond
	// restTime is how long faders must rest before the chart takes them up.
	restTime = 500 * time.Millisecond
)

// open starts listening.
func (k *keyboards) open(start func(midi.Setup) *midi.Hub) {
	k.counts, k.lit = map[string]uint64{}, map[string]bool{}
	k.letters.down = map[fyne.KeyName]int{}
	if start == nil {
		return
	}
	k.hub = start(k.w.midiSetup())
	k.hub.OnEvents(func() { k.post(k.drain) })
	k.drain()
}

// post does something on the window's goroutine.
func (k *keyboards) post(do func()) {
	if k.w.opts.post != nil {
		k.w.opts.post(do)
		return
	}
	fyne.Do(do)
}

func (k *keyboards) close() {
	if k.hub != nil {
		k.hub.Close()
	}
}

// drain takes everything the hub has to tell.
func (k *keyboards) drain() {
	if k.hub == nil {
		return
	}
	var batch [64]midi.Event
	for n := k.hub.Take(batch[:]); n > 0; n = k.hub.Take(batch[:]) {
		for i := range batch[:n] {
			k.happened(&batch[i])
		}
	}
	k.look()
}

func (k *keyboards) happened(e *midi.Event) {
	s := k.w.session
	switch e.Kind {
	case midi.KeyPressed, midi.KeyReleased:
		s.ReadyStops()
		if err := s.KeyPlayed(e.Division, e.Key, e.Kind == midi.KeyPressed, e.When); err != nil {
			s.Say(session.Sentence(err))
		}
	case midi.Moved:
		k.moved(e)
	case midi.Pressed:
		k.pressed(e.Control)
	case midi.Learned:
		k.set(k.hub.Setup().WithBinding(e.Control, e.Controller))
		s.Say(fmt.Sprintf("From now on %v works: %v.", e.Controller, e.Control))
	case midi.KeyboardLearned:
		k.set(learned(k.hub.Setup(), k.hub.State(), e))
		s.Say(fmt.Sprintf("From now on channel %d of %s plays: %v.", e.Channel, e.Port, e.Target))
	case midi.PortsChanged:
		k.tellPorts(k.hub.State())
		k.draw()
		k.showPage()
	case midi.Lost:
		s.ReleaseHeld()
	}
}

// tellPorts says which keyboard came or went since the first look.
func (k *keyboards) tellPorts(state midi.State) {
	now := map[string]bool{}
	for _, p := range state.Inputs {
		now[p.Name] = p.Open
	}
	for name, open := range now {
		if k.known != nil && open && !k.known[name] {
			k.w.session.Say(session.Quoted(name) + " plays.")
		}
	}
	for name := range k.known {
		if _, there := now[name]; !there {
			k.w.session.Say(session.Quoted(name) + " is unplugged; its keys are released.")
		}
	}
	k.known = now
}

// moved shows what a fader, pedal or switch does.
func (k *keyboards) moved(e *midi.Event) {
	s := k.w.session
	if d, bar, ok := e.Control.Drawbar(); ok {
		s.LiveDrawbar(9*int(d)+bar, midi.DrawbarValue(e.Value))
		s.Say(fmt.Sprintf("%s: %d", capital(e.Control.String()), midi.DrawbarValue(e.Value)))
		k.resting++
		k.later(restTime, k.resting, &k.resting, k.keep)
		return
	}
	switch e.Control {
	case midi.Swell:
		s.LiveSwell(midi.SwellValue(e.Value))
		s.Say(fmt.Sprintf("Swell: %.0f %%", 100*midi.SwellValue(e.Value)))
	case midi.Rotary:
		s.LiveRotary(midi.RotaryValue(e.Value))
		s.Say("Rotary speaker: " + midi.RotaryValue(e.Value).String())
	}
}

// keep lets the chart take up where the faders rest; while something is
// recorded it waits.
func (k *keyboards) keep() {
	if k.w.session.Recording() {
		k.later(restTime, k.resting, &k.resting, k.keep)
		return
	}
	k.w.grid.say(k.w.session.KeepDrawbars())
}

// later does something on the window's goroutine after a time, unless the
// count has moved on by then.
func (k *keyboards) later(after time.Duration, count int, now *int, do func()) {
	time.AfterFunc(after, func() {
		k.post(func() {
			if *now == count {
				do()
			}
		})
	})
}

// switches are the commands behind the switches outside.
var switches = map[midi.Control]string{
	midi.Play: "play.toggle", midi.Record: "record.toggle", midi.Rest: "note.rest", midi.Silence: "keys.silence",
}

func (k *keyboards) pressed(c midi.Control) {
	if c == midi.ChangeOver {
		k.changeOver()
		return
	}
	if id := switches[c]; id != "" {
		k.w.run(id)
	}
}

// draw lets organs outside call up the program of the heard registration while
// the score does not play, which does it itself.
func (k *keyboards) draw() {
	if k.hub != nil && !k.w.session.Playing() {
		k.hub.Draw(k.w.session.Heard().Registration.Name)
	}
}

// changeOver turns the speaker to fast, or to slow when it is fast.
func (k *keyboards) changeOver() {
	r := project.RotaryFast
	if k.w.session.LiveRegistration().Rotary == r {
		r = project.RotarySlow
	}
	k.hub.TurnSpeaker(r)
	k.w.session.LiveRotary(r)
	k.w.session.Say("Rotary speaker: " + r.String())
}

// set chooses anew and remembers it.
func (k *keyboards) set(s midi.Setup) {
	k.hub.SetSetup(s)
	k.draw()
	k.w.keepMIDISetup(s)
	k.showPage()
}

// showPage brings the page up to date if it is shown.
func (k *keyboards) showPage() {
	if k.w.bench.page == command.MIDI {
		k.w.bench.update()
	}
}

// learned returns the setup in which a keyboard plays what was learned. The
// channel is taken for all ports, unless another port plays something else on
// it: then the port as a whole.
func learned(s midi.Setup, state midi.State, e *midi.Event) midi.Setup {
	if now := s.Channels[e.Channel-1]; now != midi.Nothing && now != e.Target && openInputs(state) > 1 {
		r := s.Rule(e.Port)
		r.All = e.Target
		return s.WithRule(r)
	}
	if r := s.Rule(e.Port); r.All != midi.Nothing {
		r.All = midi.Nothing
		s = s.WithRule(r)
	}
	return onlyChannel(s, e.Target, e.Channel)
}

// onlyChannel returns the setup in which one channel and no other plays a
// target; channel 0 is none.
func onlyChannel(s midi.Setup, t midi.Target, channel uint8) midi.Setup {
	for i, other := range s.Channels {
		if other == t {
			s.Channels[i] = midi.Nothing
		}
	}
	if channel > 0 {
		s.Channels[channel-1] = t
	}
	return s
}

func openInputs(s midi.State) (n int) {
	for _, p := range s.Inputs {
		if p.Open {
			n++
		}
	}
	return n
}

// look marks the ports on which something came in or went out since it was
// last called.
func (k *keyboards) look() {
	state := k.hub.State()
	for _, way := range []struct {
		key   func(string) string
		ports []midi.PortState
	}{{inKey, state.Inputs}, {outKey, state.Outputs}} {
		for i := range way.ports {
			key := way.key(way.ports[i].Name)
			if n := way.ports[i].Count(); n != k.counts[key] {
				k.counts[key], k.lit[key] = n, n > 0
			}
		}
	}
	k.w.bench.showActivity(len(k.lit) > 0)
	if len(k.lit) > 0 {
		k.flash++
		k.later(flashTime, k.flash, &k.flash, k.dim)
	}
}

// inKey and outKey tell the two ports of a name apart.
func inKey(port string) string { return "in " + port }

func outKey(port string) string { return "out " + port }

// dim takes the marks away.
func (k *keyboards) dim() {
	clear(k.lit)
	k.w.bench.showActivity(false)
}

// meterTime is how often the meter follows keys that are held while the
// transport stands still.
const meterTime = 60 * time.Millisecond

// meter shows how loud the held keys are, until they are released.
func (k *keyboards) meter() {
	s := k.w.session
	if k.w.ticking {
		return // the transport's clock shows it
	}
	if len(s.Held()) == 0 {
		k.w.top.showPeak(0, time.Now())
		return
	}
	k.w.top.showPeak(s.Peak(), time.Now())
	k.metering++
	k.later(meterTime, k.metering, &k.metering, k.meter)
}

// Silence releases every key, here and outside.
func (w *Window) Silence() {
	w.keyboards.letters.lift(w)
	w.session.Silence()
	if w.keyboards.hub != nil {
		w.keyboards.hub.Silence()
	}
}

// midiSetup returns what the user has chosen and taught for keyboards and organs.
func (w *Window) midiSetup() midi.Setup {
	s, err := midi.ReadSetup(w.shelf.Now().MIDI)
	if err != nil {
		return midi.DefaultSetup()
	}
	return s
}

func (w *Window) keepMIDISetup(s midi.Setup) {
	lines := s.Write()
	w.keepLater(func(c *shelf.Content) error { c.MIDI = lines; return nil })
}
