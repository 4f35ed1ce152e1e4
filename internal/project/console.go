package project

// Compass is the range of one keyboard in MIDI keys, both ends included. A
// keyboard the console lacks has Highest below Lowest.
type Compass struct {
	Lowest, Highest int
}

// Keys returns the number of keys, 0 for a keyboard that is not there.
func (k Compass) Keys() int { return max(0, k.Highest-k.Lowest+1) }

// Has reports whether a MIDI key lies on the keyboard.
func (k Compass) Has(key int) bool { return key >= k.Lowest && key <= k.Highest }

// Console is an instrument as far as its keyboards go. Pedal keys are counted
// like manual keys: the lowest C is MIDI 36 whatever its pipes or drawbars
// sound.
type Console struct {
	// ID is the word files use, Name what a screen shows.
	ID, Name string
	// Upper, Lower and Pedal are the compasses of the divisions.
	Upper, Lower, Pedal Compass
	// Split, above zero, is the first key of the upper division on a console
	// whose two divisions share one manual.
	Split int
	// LowerOffset is how far the lower manual's keys stand to the right of the
	// upper manual's keys of the same pitch, in whole millimetres.
	LowerOffset int
	// Busy are limbs that the player cannot use on it.
	Busy Limbs
}

// DefaultConsole is the ID of the console a new chart is made for.
const DefaultConsole = "full"

// noCompass is a division that is not there.
var noCompass = Compass{Lowest: 0, Highest: -1}

// Consoles lists the known consoles in menu order. The compasses are the
// customary ones: manuals of five octaves from C, pedalboards of 25 (two
// octaves) or 32 keys (as the concert standard asks), and the small form with
// staggered manuals of 44 keys and one octave of pedals.
func Consoles() []Console {
	return []Console{
		{ID: "full", Name: "Full: 61, 61 and 25 keys", Upper: Compass{36, 96}, Lower: Compass{36, 96}, Pedal: Compass{36, 60}},
		{ID: "short", Name: "Short: 44, 44 and 13 keys", Upper: Compass{53, 96}, Lower: Compass{41, 84}, Pedal: Compass{36, 48}},
		{ID: "concert", Name: "Concert: 61, 61 and 32 keys", Upper: Compass{36, 96}, Lower: Compass{36, 96}, Pedal: Compass{36, 67}},
		{ID: "single", Name: "Single: 73 keys with a split", Upper: Compass{55, 100}, Lower: Compass{28, 54}, Pedal: noCompass, Split: 55},
	}
}

// ConsoleByID returns the console a chart names: one of Consoles, or one of
// the user's own, which its ID describes (see ParseConsole).
func ConsoleByID(id string) (Console, bool) {
	for _, k := range Consoles() {
		if k.ID == id {
			return k, true
		}
	}
	if k, err := ParseConsole(id); err == nil {
		return k, true
	}
	return Console{}, false
}
