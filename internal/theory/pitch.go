package theory

import (
	"fmt"
	"strconv"
)

// MinKey and MaxKey bound the MIDI key numbers a pitch may sound at.
const (
	MinKey = 0
	MaxKey = 127
)

// Pitch is a spelled pitch in scientific notation: C4 is middle C, MIDI key
// 60, and Cb4 sounds as B3. The zero value is not valid.
type Pitch struct {
	name   Name
	octave int8
}

// NewPitch returns name in the given octave, or the zero Pitch when the name
// is not valid or the key would leave the range MinKey to MaxKey.
func NewPitch(name Name, octave int) Pitch {
	if !name.valid || octave < -2 || octave > 10 {
		return Pitch{}
	}
	p := Pitch{name, int8(octave)}
	if k := p.Key(); k < MinKey || k > MaxKey {
		return Pitch{}
	}
	return p
}

// PitchAt returns the pitch that is spelled name and sounds at a MIDI key. The
// result is the zero Pitch when name's pitch class is not the key's.
func PitchAt(name Name, key int) Pitch {
	if !name.valid || mod(key, 12) != name.PC() {
		return Pitch{}
	}
	natural := key - int(name.alter)
	return NewPitch(name, floorDiv(natural, 12)-1)
}

// IsValid reports whether the pitch is one.
func (p Pitch) IsValid() bool { return p.name.valid }

// Name returns the spelled pitch class.
func (p Pitch) Name() Name { return p.name }

// Octave returns the octave of the written letter; middle C starts octave 4.
func (p Pitch) Octave() int { return int(p.octave) }

// Key returns the MIDI key number, 60 for C4.
func (p Pitch) Key() int {
	return 12*(int(p.octave)+1) + letterSemitones[p.name.letter] + int(p.name.alter)
}

// Diatonic returns the number of letters above C0; it orders staff positions.
func (p Pitch) Diatonic() int { return 7*int(p.octave) + int(p.name.letter) }

// Transpose returns the pitch an interval away, or the zero Pitch when that
// leaves the range of MIDI keys.
func (p Pitch) Transpose(i Interval) Pitch {
	if !p.IsValid() {
		return p
	}
	return PitchAt(p.name.Transpose(i), p.Key()+i.Semitones())
}

// String writes the pitch in ASCII: "Bb3".
func (p Pitch) String() string {
	if !p.IsValid() {
		return ""
	}
	return p.name.String() + strconv.Itoa(int(p.octave))
}

// Pretty writes the pitch with printed accidentals: "B♭3".
func (p Pitch) Pretty() string { return Pretty(p.String()) }

// ParsePitch reads a name and an octave number such as "F#3" or "B♭-1".
func ParsePitch(s string) (Pitch, error) {
	n, rest, err := scanName(s)
	if err != nil {
		return Pitch{}, fmt.Errorf("pitch %q: %w", s, err)
	}
	octave, err := strconv.Atoi(rest)
	if err != nil {
		return Pitch{}, fmt.Errorf("pitch %q: expected an octave number after %q", s, n)
	}
	p := NewPitch(n, octave)
	if !p.IsValid() {
		return Pitch{}, fmt.Errorf("pitch %q: outside MIDI keys %d to %d", s, MinKey, MaxKey)
	}
	return p, nil
}

// MustParsePitch is ParsePitch for text that is known to be right.
func MustParsePitch(s string) Pitch {
	p, err := ParsePitch(s)
	if err != nil {
		panic(err)
	}
	return p
}
