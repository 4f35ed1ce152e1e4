package project

// Accent is the struck accent of the upper manual: a partial that sounds when
// a key is pressed while no other key of the manual is held, and dies away.
// The zero value is none.
type Accent struct {
	Pitch AccentPitch
	// Loud is the higher of its two levels, Long the longer of its two
	// lengths.
	Loud, Long bool
}

// AccentPitch is the partial of an Accent.
type AccentPitch uint8

// The partials of an accent.
const (
	NoAccent AccentPitch = iota
	AccentOctave
	AccentTwelfth
)

// Vibrato is the setting of a division's vibrato, alone or with dry signal
// beside it, as a chorus.
type Vibrato uint8

// The settings of the vibrato.
const (
	NoVibrato Vibrato = iota
	VibratoLight
	VibratoMedium
	VibratoDeep
	ChorusLight
	ChorusMedium
	ChorusDeep
)

var (
	accentWords  = []string{"none", "octave", "twelfth"}
	vibratoWords = []string{
		"none", "light", "medium", "deep", "light with dry", "medium with dry", "deep with dry",
	}
)

// AccentPitches and Vibratos list every value in menu order.
var (
	AccentPitches = []AccentPitch{NoAccent, AccentOctave, AccentTwelfth}
	Vibratos      = []Vibrato{NoVibrato, VibratoLight, VibratoMedium, VibratoDeep, ChorusLight, ChorusMedium, ChorusDeep}
)

// String returns the word files use: "none", "octave", "twelfth".
func (p AccentPitch) String() string { return accentWords[p] }

// String returns the words files use: "light", "deep with dry".
func (v Vibrato) String() string { return vibratoWords[v] }

// ParseAccentPitch reads a word written by AccentPitch.String.
func ParseAccentPitch(s string) (AccentPitch, error) {
	return parseWord[AccentPitch]("accent", accentWords, s)
}

// ParseVibrato reads words written by Vibrato.String.
func ParseVibrato(s string) (Vibrato, error) { return parseWord[Vibrato]("vibrato", vibratoWords, s) }

// Effects are the settings of a registration beside drawbars, rotary speaker
// and swell. The zero value is the plain organ in a dry room.
type Effects struct {
	Accent Accent
	// Vibrato of upper manual, lower manual and pedals.
	Vibrato [3]Vibrato
	// Drive is how far the sound is driven into saturation, 0 (clean) to 1.
	Drive float64
	// Room is the level of the room around the speaker, 0 (dry) to 1.
	Room float64
}

func (k *checker) effects(where string, e *Effects) {
	if int(e.Accent.Pitch) >= len(AccentPitches) {
		k.add(where, "there is no accent %d", e.Accent.Pitch)
	}
	for _, v := range e.Vibrato {
		if int(v) >= len(Vibratos) {
			k.add(where, "there is no vibrato %d", v)
		}
	}
	if !(e.Drive >= 0 && e.Drive <= 1) {
		k.add(where, "drive %v is outside 0 to 1", e.Drive)
	}
	if !(e.Room >= 0 && e.Room <= 1) {
		k.add(where, "room %v is outside 0 to 1", e.Room)
	}
}

// wireAccent and the other optional fields of a wireRegistration are left out
// of the file where they are at rest.
type wireAccent struct {
	Pitch string `json:"pitch"`
	Loud  bool   `json:"loud,omitempty"`
	Long  bool   `json:"long,omitempty"`
}

type wireEffects struct {
	Accent  *wireAccent `json:"accent,omitempty"`
	Vibrato []string    `json:"vibrato,omitempty"` // upper, lower, pedal
	Drive   float64     `json:"drive,omitempty"`
	Room    float64     `json:"room,omitempty"`
}

func wireEffectsOf(e Effects) (w wireEffects) {
	w.Drive, w.Room = e.Drive, e.Room
	if e.Accent != (Accent{}) {
		w.Accent = &wireAccent{e.Accent.Pitch.String(), e.Accent.Loud, e.Accent.Long}
	}
	if e.Vibrato != ([3]Vibrato{}) {
		w.Vibrato = mapped(e.Vibrato[:], Vibrato.String)
	}
	return w
}
