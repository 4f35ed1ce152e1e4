package theory

import (
	"fmt"
	"strings"
)

// Mode is major or minor.
type Mode uint8

// The two modes a key signature may stand for.
const (
	Major Mode = iota
	Minor
)

// String returns "major" or "minor".
func (m Mode) String() string {
	if m == Minor {
		return "minor"
	}
	return "major"
}

// Key is a tonic with a mode. The zero value is not valid.
type Key struct {
	tonic Name
	mode  Mode
}

// NewKey returns the key on tonic.
func NewKey(tonic Name, mode Mode) Key { return Key{tonic, mode} }

// KeyFromFifths returns the key whose signature has f sharps (flats when
// negative), as MusicXML and MIDI files write it.
func KeyFromFifths(f int, mode Mode) Key {
	if mode == Minor {
		f += 3
	}
	return Key{NameFromFifths(f), mode}
}

// IsValid reports whether the key has a tonic.
func (k Key) IsValid() bool { return k.tonic.valid }

// Tonic returns the key's first degree.
func (k Key) Tonic() Name { return k.tonic }

// Mode returns major or minor.
func (k Key) Mode() Mode { return k.mode }

// Fifths returns the sharps of the signature, flats negative.
func (k Key) Fifths() int {
	if k.mode == Minor {
		return k.tonic.Fifths() - 3
	}
	return k.tonic.Fifths()
}

// Transpose returns the key an interval away.
func (k Key) Transpose(i Interval) Key { return Key{k.tonic.Transpose(i), k.mode} }

// Spell returns the usual name of a pitch class in the key: the scale's own
// notes, sharps as leading notes up to the raised fourth, flats otherwise.
func (k Key) Spell(pc int) Name {
	// On the line of fifths a key's chromatic notes lie from the lowered
	// second (five below a major tonic) to the raised fourth (six above).
	// Minor shares its tonic's window: it has the raised sixth, seventh and
	// fourth above and the lowered second below.
	low := k.tonic.Fifths() - 5
	f := low + mod(mod(7*pc, 12)-low, 12)
	return NameFromFifths(f)
}

// String writes the key as "G minor" with ASCII accidentals.
func (k Key) String() string {
	if !k.IsValid() {
		return ""
	}
	return k.tonic.String() + " " + k.mode.String()
}

// Pretty writes the key as "B♭ minor".
func (k Key) Pretty() string {
	if !k.IsValid() {
		return ""
	}
	return k.tonic.Pretty() + " " + k.mode.String()
}

// ParseKey reads "G minor", "Bb major", "Bb", "F#m" or "gm".
func ParseKey(s string) (Key, error) { return ParseKeyIn(s, Major) }

// ParseKeyIn reads what ParseKey does; a tonic alone is in the given mode.
func ParseKeyIn(s string, mode Mode) (Key, error) {
	n, rest, err := scanName(strings.TrimSpace(s))
	if err != nil {
		return Key{}, fmt.Errorf("key %q: %w", s, err)
	}
	switch strings.ToLower(strings.TrimSpace(rest)) {
	case "":
		return Key{n, mode}, nil
	case "major", "maj":
		return Key{n, Major}, nil
	case "m", "minor", "min":
		return Key{n, Minor}, nil
	}
	return Key{}, fmt.Errorf("key %q: expected major or minor after %s", s, n)
}

// MustParseKey is ParseKey for text that is known to be right.
func MustParseKey(s string) Key {
	k, err := ParseKey(s)
	if err != nil {
		panic(err)
	}
	return k
}
