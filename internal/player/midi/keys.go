package midi

import (
	"time"

	"organbook/internal/arrange"
	"organbook/internal/project"
)

// keys is the playing that comes from one port. Only the thread that brings
// its messages uses it, and the hub's goroutine once that thread is gone.
type keys struct {
	hub  *Hub
	port string
	// held says what a key that is down plays: its division and key, plus one;
	// zero is up. A key sends its release to what it was pressed for, whatever
	// is chosen since.
	held [16][128]uint16
	// stood is where controllers stood, plus one.
	stood [16][firstMode]uint8
}

// play carries out a message.
func (k *keys) play(m Message) {
	switch {
	case m.Status == NoteOn:
		k.press(m)
	case m.Status == NoteOff:
		k.lift(m.Channel, int(m.A))
	case m.Status == Change && (m.A == allSoundOff || m.A >= allNotesOff):
		k.releaseChannel(m.Channel)
	case m.Status == Change && m.A < firstMode:
		k.turn(m)
	case m.Status == Program:
		k.throw(m, Programs)
	}
}

func (k *keys) press(m Message) {
	if k.hub.learnKeyboard(k.port, m.Channel) || k.throw(m, Keys) {
		return
	}
	k.lift(m.Channel, int(m.A)) // a keyboard that repeats itself strikes again
	p := k.hub.plan.Load()
	d, key, ok := p.target(k.port, m.Channel, int(m.A))
	if !ok {
		return
	}
	k.held[m.Channel][m.A] = uint16(d)<<8 | uint16(key) + 1
	k.hub.instrument.LiveKey(d, key, true)
	k.send(p, d, Message{Status: NoteOn, A: byte(key), B: m.B})
	k.hub.note(Event{When: time.Now(), Kind: KeyPressed, Division: d, Key: key, Velocity: m.B})
}

// lift releases a key if it is down.
func (k *keys) lift(channel byte, number int) {
	at := k.held[channel][number]
	if at == 0 {
		return
	}
	k.held[channel][number] = 0
	d, key := arrange.Division((at-1)>>8), int((at-1)&255)
	k.hub.instrument.LiveKey(d, key, false)
	k.send(k.hub.plan.Load(), d, Message{Status: NoteOff, A: byte(key), B: 64})
	k.hub.note(Event{When: time.Now(), Kind: KeyReleased, Division: d, Key: key})
}

func (k *keys) releaseChannel(channel byte) {
	for number := range k.held[channel] {
		k.lift(channel, number)
	}
}

// release lets go of every key of the port.
func (k *keys) release() {
	for channel := range k.held {
		k.releaseChannel(byte(channel))
	}
}

// send passes what is played on to the organ outside, at once. A port that
// only hands messages through would bring them back for ever.
func (k *keys) send(p *plan, d arrange.Division, m Message) {
	if !isLoop(k.port) {
		k.hub.sendOut(p, d, m)
	}
}

// turn works the control that a controller is bound to.
func (k *keys) turn(m Message) {
	by := Controller{m.A, m.Channel + 1, Controllers}
	if k.hub.learnController(by) {
		return
	}
	before := k.stood[m.Channel][m.A]
	k.stood[m.Channel][m.A] = m.B + 1
	p := k.hub.plan.Load()
	c := p.control(Controllers, m.Channel, m.A)
	if c == NoControl || before == m.B+1 {
		return
	}
	kind := Moved
	if c.IsSwitch() {
		if before > middle || m.B < middle {
			return
		}
		kind = Pressed
	}
	k.work(p, c, m.B)
	k.hub.note(Event{When: time.Now(), Kind: kind, Control: c, Value: m.B, Controller: by})
}

// throw presses the switch that a key or a program works, or learns from it. It
// reports whether the message is thereby used up: a key that works a switch
// sounds nothing.
func (k *keys) throw(m Message, from Source) bool {
	by := Controller{m.A, m.Channel + 1, from}
	if k.hub.learnController(by) {
		return true
	}
	c := k.hub.plan.Load().control(from, m.Channel, m.A)
	if c == NoControl {
		return false
	}
	k.hub.note(Event{When: time.Now(), Kind: Pressed, Control: c, Value: 127, Controller: by})
	return true
}

// middle is where a switch acts and the speaker changes its speed.
const middle = 64

// work lets the instrument answer at once; what the chart keeps of it is the
// window's to say.
func (k *keys) work(p *plan, c Control, v byte) {
	if d, bar, ok := c.Drawbar(); ok {
		k.hub.instrument.LiveDrawbar(d, bar, DrawbarValue(v))
		return
	}
	switch c {
	case Swell:
		k.hub.instrument.LiveSwell(SwellValue(v))
		for d := range arrange.Pedal + 1 {
			k.send(p, d, Message{Status: Change, A: ExpressionPedal, B: v})
		}
	case Rotary:
		k.hub.instrument.LiveRotary(RotaryValue(v))
	}
}

// DrawbarValue returns where a fader puts a drawbar, 0 to 8.
func DrawbarValue(v uint8) int { return (int(v)*project.MaxDrawbar + 63) / 127 }

// SwellValue returns where a pedal puts the swell, 0 to 1.
func SwellValue(v uint8) float64 { return float64(v) / 127 }

// RotaryValue returns the speed that a switch asks for.
func RotaryValue(v uint8) project.Rotary {
	if v < middle {
		return project.RotarySlow
	}
	return project.RotaryFast
}
