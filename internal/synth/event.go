package synth

// Division is one of the three keyboards.
type Division uint8

// The divisions, in the order of arrange.Division.
const (
	Upper Division = iota
	Lower
	Pedal
	// Divisions is how many there are.
	Divisions = 3
)

// Kind says what an Event does.
type Kind uint8

// The kinds of event, with the fields each one reads.
const (
	// KeyDown presses Key on Division. A key that is already down is held
	// once more and makes no new sound: it goes up after as many KeyUps.
	KeyDown Kind = iota
	// KeyUp releases Key on Division; a key that is up stays up.
	KeyUp
	// AllNotesOff releases every key of every division.
	AllNotesOff
	// SetDrawbars sets Division to Drawbars; the pedal reads the first two
	// (16′ and 8′).
	SetDrawbars
	// SetRotary sets the speaker to the speed in Rotary.
	SetRotary
	// SetSwell moves the expression pedal to Value, 0 (closed) to 1 (open).
	SetSwell
	// SetMaster sets the level after the speaker to Value, 0 to 1, in
	// proportion to amplitude.
	SetMaster
	// SetClick sets the level of the contact click to Value, 0 to 1.
	SetClick
	// SetVibrato sets the vibrato of Division to Vibrato.
	SetVibrato
	// SetAccent sets the struck accent of the upper manual to Accent.
	SetAccent
	// SetDrive sets how far the sound is driven to Value, 0 (clean) to 1.
	SetDrive
	// SetRoom sets the level of the room to Value, 0 (none) to 1.
	SetRoom
	// SetLeakage sets how much of each neighbour a generator lets through to
	// Value, 0 to MaxLeakage.
	SetLeakage
	// SetWheels gives the generators other loops, Wheels, of the engine's
	// sample rate.
	SetWheels
	// SetMicDistance moves the microphones to Value metres from the axis of
	// the rotors, SetMicAngle to Value revolutions from the front.
	SetMicDistance
	SetMicAngle
	// SetBrake sets where stopped rotors come to rest, in revolutions from the
	// front; a rotor at rest creeps there.
	SetBrake
	// SetRoomSize, SetRoomDecay and SetRoomDamping change the room to Value;
	// see RoomParams. Another size lets what rings in it fade first.
	SetRoomSize
	SetRoomDecay
	SetRoomDamping
	// SetTick sets the level of the metronome to Value, 0 (silent) to 2, in
	// proportion to amplitude; 1 is the usual level.
	SetTick
	// Tick sounds the metronome once; Value is its accent, 0 to 1.
	Tick
)

// Event is one action of the player at one frame.
type Event struct {
	// Frame counts from the start of the block (Engine.Render) or of the
	// score (Offline).
	Frame    int64
	Kind     Kind
	Division Division
	// Key is a MIDI key number, 0 to 127. On the manuals it is the key that
	// sounds at its own pitch with the 8′ drawbar alone; pedal keys likewise.
	Key      uint8
	Drawbars Drawbars
	Rotary   Speed
	Vibrato  Vibrato
	Accent   Accent
	// Soft makes KeyDown, KeyUp and SetDrawbars fade over a few hundredths of
	// a second, without click, accent or the stagger of contacts: for passing
	// from one arrangement to another while it plays.
	Soft   bool
	Value  float32
	Wheels *Wheels
}

// Drawbars are the settings of a manual, 16′ 5⅓′ 8′ 4′ 2⅔′ 2′ 1⅗′ 1⅓′ 1′, each
// 0 (silent) to 8 (full). The pedal uses the first two for 16′ and 8′.
type Drawbars [9]uint8

// Speed is the speed the rotary speaker is set to.
type Speed uint8

// The speeds, in the order of project.Rotary.
const (
	Stopped Speed = iota
	Slow
	Fast
)
