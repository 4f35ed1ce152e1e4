package ui

import (
	"strings"

	"organbook/internal/theory"
)

// prose prints the accidentals of note names and chord symbols that stand in a
// sentence: "Bb is borrowed" becomes "B♭ is borrowed".
func prose(s string) string {
	words := strings.Split(s, " ")
	for i, w := range words {
		if from, to, both := strings.Cut(w, "–"); both {
			words[i] = prose(from) + "–" + prose(to)
			continue
		}
		core := strings.TrimRight(w, ".,;:!?)")
		core = strings.TrimLeft(core, "(")
		if strings.ContainsAny(core, "#b") && isMusicName(core) {
			words[i] = strings.Replace(w, core, theory.Pretty(core), 1)
		}
	}
	return strings.Join(words, " ")
}

// isMusicName reports whether a word is a note name, a pitch or a chord.
func isMusicName(s string) bool {
	if s[0] < 'A' || s[0] > 'G' {
		return false
	}
	if _, err := theory.ParseName(s); err == nil {
		return true
	}
	if _, err := theory.ParsePitch(s); err == nil {
		return true
	}
	_, err := theory.ParseChord(s)
	return err == nil
}
