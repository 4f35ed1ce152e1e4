package midi

// The messages of the MIDI 1.0 standard that the hub reads and writes.

// Message is a channel message: status without channel, channel 0 to 15, and
// two data bytes of which some messages use one.
type Message struct {
	Status, Channel, A, B byte
}

// The statuses.
const (
	NoteOff = 0x80
	NoteOn  = 0x90
	Change  = 0xB0 // of a controller
	Program = 0xC0
)

// The controllers with a meaning of their own.
const (
	ModulationWheel = 1
	ExpressionPedal = 11
	// allSoundOff and allNotesOff are channel mode messages, as are all
	// controllers from firstMode on.
	firstMode, allSoundOff, allNotesOff = 120, 120, 123
)

// Read reads a channel message; ok is false for any other and for one that is
// cut short. A note struck with no velocity is released.
func Read(b []byte) (m Message, ok bool) {
	if len(b) < 2 || b[0] < 0x80 || b[0] >= 0xF0 || b[1] > 127 {
		return m, false
	}
	m = Message{Status: b[0] & 0xF0, Channel: b[0] & 0x0F, A: b[1]}
	if m.Status != Program && m.Status != 0xD0 { // program and pressure have one byte
		if len(b) < 3 || b[2] > 127 {
			return Message{}, false
		}
		m.B = b[2]
	}
	if m.Status == NoteOn && m.B == 0 {
		m.Status = NoteOff
	}
	return m, true
}

// write writes a message into three bytes and returns those it has.
func (m Message) write(into *[3]byte) []byte {
	*into = [3]byte{m.Status | m.Channel, m.A, m.B}
	if m.Status == Program {
		return into[:2]
	}
	return into[:]
}
