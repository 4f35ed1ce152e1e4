package project

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits of a chart. They bound memory and keep every computed position far
// inside Ticks; no tune comes near them.
const (
	MaxBars  = 10_000
	MaxNotes = 200_000
	// MaxChanges bounds the chord symbols.
	MaxChanges = 100_000
	// MaxBarLength is the longest bar any meter can ask for.
	MaxBarLength = 64 * Whole
	// MinTempo and MaxTempo bound tempos, in quarter notes a minute.
	MinTempo, MaxTempo = 20.0, 400.0
	// MinSwing is straight time and MaxSwing the latest off-beat, as parts of
	// the beat.
	MinSwing, MaxSwing = 0.5, 0.8
	// MaxSignature is the most sharps or flats a key signature can show.
	MaxSignature = 7
	// MaxTimes bounds how often a repeat is played and an ending is numbered.
	MaxTimes = 99
	// MaxVoices bounds the voices of a pinned block: ten fingers and two feet.
	MaxVoices = 12
	// MaxTakes bounds the takes of a passage, MaxTakeID their numbers.
	MaxTakes, MaxTakeID = 50, 1_000_000
	// MaxLeadOctave bounds how far a treatment moves the lead, either way.
	MaxLeadOctave = 2
	// MaxDrawbar is a drawbar pulled out all the way.
	MaxDrawbar = 8
	// MaxTitle and MaxLabel bound texts, in characters: titles and composers,
	// and the names of sections, passages and registrations.
	MaxTitle, MaxLabel = 300, 100
)

// OneLine returns s fit for a chart's text field of at most limit characters:
// valid UTF-8 on one line, without control characters or outer blanks. It is
// for text from other programs' files and from paste.
func OneLine(s string, limit int) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError:
			return -1
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r):
			return -1
		}
		return r
	}, s)
	s = strings.Join(strings.Fields(s), " ")
	if runes := []rune(s); len(runes) > limit {
		s = strings.TrimSpace(string(runes[:limit]))
	}
	return s
}
