package project

// Tone is how the instrument of a chart is made and heard, beside what its
// registrations change: the noises of its contacts and generators, the
// microphones before the rotary speaker, and the room.
type Tone struct {
	// Click is the level of the contact click, 0 (none) to 1.
	Click float64
	// Leakage is how much of each neighbour a generator lets through, as a
	// part of the amplitude, 0 (none) to MaxLeakage.
	Leakage float64
	// Partials is the amplitude of the slightly sharp second partial of each
	// generator, 0 (none) to MaxPartials; the third has half as much.
	Partials float64
	// MicDistance is how far the two microphones stand from the axis of the
	// rotors, in metres, MinMicDistance to MaxMicDistance, and MicAngle how far
	// each stands from the front, in degrees, 0 to MaxMicAngle.
	MicDistance, MicAngle float64
	// StopAngle is where the rotors come to rest, in degrees from the front, 0
	// up to but not including 360.
	StopAngle float64
	// RoomSize is the mean path of the room in metres, MinRoomSize to
	// MaxRoomSize; Decay how long its reverberation takes to fall by 60 dB, in
	// seconds, MinDecay to MaxDecay; Damping what its walls take of high
	// frequencies, 0 (stone) to 1 (curtains).
	RoomSize, Decay, Damping float64
}

// The limits of a tone.
const (
	MaxLeakage                     = 0.05
	MaxPartials                    = 0.1
	MinMicDistance, MaxMicDistance = 0.3, 3.0
	MaxMicAngle                    = 90.0
	MinRoomSize, MaxRoomSize       = 2.0, 30.0
	MinDecay, MaxDecay             = 0.1, 2.5
)

// DefaultTone is a console in good order before microphones at the distance of
// an arm, in a club room.
func DefaultTone() Tone {
	return Tone{
		Click: 0.35, MicDistance: 0.8, MicAngle: 65,
		RoomSize: 9, Decay: 1.1, Damping: 0.5,
	}
}

// Sounding returns the chart's tone, the default one where it has none of its
// own.
func (c *Chart) Sounding() Tone {
	if c.Tone == nil {
		return DefaultTone()
	}
	return *c.Tone
}

// SetTone gives a chart a tone. The default tone is not kept in the chart.
type SetTone struct{ Tone Tone }

// Name returns "set tone".
func (SetTone) Name() string { return "set tone" }

// Apply fails for a tone whose figures are out of range.
func (e SetTone) Apply(c *Chart) (*Chart, error) {
	return c.with(func(d *Chart) {
		d.Tone = nil
		if e.Tone != DefaultTone() {
			t := e.Tone
			d.Tone = &t
		}
	})
}

func (k *checker) tone() {
	if k.c.Tone == nil {
		return
	}
	t := k.c.Tone
	for _, f := range []struct {
		name           string
		v, least, most float64
	}{
		{"click", t.Click, 0, 1},
		{"leakage", t.Leakage, 0, MaxLeakage},
		{"partials", t.Partials, 0, MaxPartials},
		{"distance of the microphones", t.MicDistance, MinMicDistance, MaxMicDistance},
		{"angle of the microphones", t.MicAngle, 0, MaxMicAngle},
		{"stop angle", t.StopAngle, 0, 359.999},
		{"size of the room", t.RoomSize, MinRoomSize, MaxRoomSize},
		{"decay of the room", t.Decay, MinDecay, MaxDecay},
		{"damping of the room", t.Damping, 0, 1},
	} {
		if !(f.v >= f.least && f.v <= f.most) {
			k.add("the tone", "%s %v is outside %v to %v", f.name, f.v, f.least, f.most)
		}
	}
}

// sameTone reports whether two charts sound the same; both may have none of
// their own.
func sameTone(t, u *Tone) bool {
	if t == nil || u == nil {
		return t == u
	}
	return *t == *u
}

// wireTone is a tone in a file. What is left out there is as in the default
// tone.
type wireTone struct {
	Click       *float64 `json:"click,omitempty"`
	Leakage     *float64 `json:"leakage,omitempty"`
	Partials    *float64 `json:"partials,omitempty"`
	MicDistance *float64 `json:"micDistance,omitempty"`
	MicAngle    *float64 `json:"micAngle,omitempty"`
	StopAngle   *float64 `json:"stopAngle,omitempty"`
	RoomSize    *float64 `json:"roomSize,omitempty"`
	Decay       *float64 `json:"decay,omitempty"`
	Damping     *float64 `json:"damping,omitempty"`
}

// toneFields pairs the fields of a tone with those of a file.
func (w *wireTone) toneFields(t *Tone) map[*float64]**float64 {
	return map[*float64]**float64{
		&t.Click: &w.Click, &t.Leakage: &w.Leakage, &t.Partials: &w.Partials,
		&t.MicDistance: &w.MicDistance, &t.MicAngle: &w.MicAngle, &t.StopAngle: &w.StopAngle,
		&t.RoomSize: &w.RoomSize, &t.Decay: &w.Decay, &t.Damping: &w.Damping,
	}
}

func wireToneOf(t Tone) (w wireTone) {
	usual := DefaultTone()
	same := map[**float64]float64{}
	for v, field := range w.toneFields(&usual) {
		same[field] = *v
	}
	for v, field := range w.toneFields(&t) {
		if *v != same[field] {
			*field = v
		}
	}
	return w
}

func (w *wireTone) tone() *Tone {
	if w == nil {
		return nil
	}
	t := DefaultTone()
	for v, field := range w.toneFields(&t) {
		if *field != nil {
			*v = **field
		}
	}
	if t == DefaultTone() {
		return nil
	}
	return &t
}
